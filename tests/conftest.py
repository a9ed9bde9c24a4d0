"""Settings that every test shares."""

from hypothesis import settings

# No deadline: the first call of a kernel may have to compile it, which takes seconds and
# says nothing about the code under test.
settings.register_profile("stunline", deadline=None)
settings.load_profile("stunline")
