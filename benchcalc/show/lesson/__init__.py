"""Exercises on a page: a field that takes an answer, hints in steps, the worked answer once it is earned."""
