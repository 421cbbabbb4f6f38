"""Panels: sliders, picture, headline numbers, verdicts."""
