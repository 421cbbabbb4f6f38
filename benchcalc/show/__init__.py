"""What the eye sees: pictures, panels, derivations, tables.  Nothing heavy is loaded until asked for."""
