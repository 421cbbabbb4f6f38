"""Warm-up in one and two time constants: forms, fits, forecasts."""
