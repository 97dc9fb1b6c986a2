"""Property tests: no clock decides, nothing is kept on disk, and a failure tells how to repeat it."""

from hypothesis import settings

settings.register_profile("kernel", deadline=None, database=None, print_blob=True)
settings.load_profile("kernel")
