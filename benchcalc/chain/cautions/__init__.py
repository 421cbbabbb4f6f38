"""Which cautions a build calls for."""
