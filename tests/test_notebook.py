"""A notebook shows shots and ladders as pictures, in a real interactive shell."""

from __future__ import annotations

import subprocess
import sys
import textwrap

import pytest

SHELL = """
    from IPython.core.interactiveshell import InteractiveShell
    shell = InteractiveShell.instance()
    shell.run_cell("import stunline", silent=True)
    shell.run_cell("read = stunline.read_position('up-and-down')", silent=True)
    shell.run_cell("value = {expression}", silent=True)
    shown, _ = shell.display_formatter.format(shell.user_ns["value"])
    print(shown["image/svg+xml"])
"""


@pytest.mark.parametrize(
    "expression",
    [
        "stunline.play_shot(read)",
        "stunline.play_shot(read).shot",
        "stunline.climb_ladder(read)",
        "stunline.climb_ladder(read).ladder",
        "stunline.play_shot(read).drawing()",
    ],
)
def test_a_notebook_shows_it_as_a_picture(expression: str) -> None:
    code = textwrap.dedent(SHELL.format(expression=expression))
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=120
    )
    assert done.stdout.lstrip().startswith("<svg ")
    assert "</svg>" in done.stdout
    assert 'class="ball-white"' in done.stdout


def test_importing_the_package_brings_nothing_heavy() -> None:
    heavy = "('numba', 'numpy', 'typst', 'click')"
    code = f"import sys, stunline; print([m for m in {heavy} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_public_names_are_there() -> None:
    import stunline

    for name in stunline.__all__:
        assert getattr(stunline, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'unknown'"):
        _ = stunline.unknown
