"""Exercises that take an answer: personal numbers, a check that knows units, the likely slip named."""
