"""Electricity: supply, wire, coil."""
