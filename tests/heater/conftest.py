"""Property tests: the same examples on every run, no database of old ones."""

from hypothesis import settings

settings.register_profile("bench", deadline=None, database=None, derandomize=True, max_examples=60)
settings.load_profile("bench")
