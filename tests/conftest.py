"""Settings that every test shares."""

from hypothesis import settings

# Kernels come in through their one door before any test module asks for them: imported on
# their own they would be compiled anew in each process.
import stunline.shot.compiled  # noqa: F401

# No deadline: the first call of a kernel may have to compile it, which takes seconds and
# says nothing about the code under test. The same cases every time: a change is judged by what
# it changes, and new cases are looked for in campaigns/.
settings.register_profile("stunline", deadline=None, derandomize=True)
settings.load_profile("stunline")
