"""What every page uses: tables, derivations, lessons."""
