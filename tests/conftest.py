"""Settings that every test shares."""

import os

# The tests run side by side already, and the matrices here are small: a linear algebra of several
# threads spends more time on waiting in each of them than on the work. Read when numpy is loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from collections.abc import Iterator

import pytest
from hypothesis import settings

# Kernels come in through their one door before any test module asks for them: imported on
# their own they would be compiled anew in each process.
import stunline.shot.compiled  # noqa: F401

# No deadline: the first call of a kernel may have to compile it, which takes seconds and
# says nothing about the code under test. The same cases every time: a change is judged by what
# it changes, and new cases are looked for in campaigns/.
settings.register_profile("stunline", deadline=None, derandomize=True)
settings.load_profile("stunline")


@pytest.fixture(scope="session", autouse=True)
def own_state(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What servers of tests keep, they keep away from the user's own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_STATE_HOME", str(tmp_path_factory.mktemp("state")))
        yield
