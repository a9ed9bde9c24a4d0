"""Each command once as a process of its own: it starts, and leaves what it leaves in the tests'."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import click
import pytest

from cli.command import POSITION, POSITIONS, run, run_alone
from stunline.cli.main import main

LADDER = '[ladder]\nvary = "height"\nvalues = [0.0, 4.0]\n'
GOAL = "[goal]\nrest = { circle = [821.0, 2121.0, 500.0] }\nvary = { pace = [1.0, 2.5] }\n"
RACK = str(POSITIONS / "edge-of-the-pack.toml")
EACH = {
    "shot": ["p.toml", "-o", "plan.png", "--json"],
    "ladder": ["p.toml"],
    "pack": [RACK, "--racks", "2"],
    "choose": ["p.toml", "--strikes", "128"],
    "margin": ["p.toml", "--plays", "64"],
    "played": ["p.toml", "--rest", "1204,2310"],
    "explain": ["p.toml"],
    "reach": ["p.toml", "--cell", "200"],
    "gauge": ["fit", "record.toml"],
    "sheet": ["p.toml", "-o", "sheet.pdf"],
    "fullsize": ["p.toml", "-o", "full.pdf"],
    "new": ["new.toml"],
    "check": ["p.toml", "bad.toml", "--json"],
    "equipment": ["snooker-12ft"],
}
REFUSED = ("gauge", "check")  # a record that nobody has filled in, a file with a fault


def test_every_command_is_here() -> None:
    """But for ``open``, which tests/web starts."""
    assert {*EACH, "open"} == set(main.list_commands(click.Context(main)))


@pytest.mark.parametrize("command", EACH)
def test_alone_it_leaves_the_same(command: str, tmp_path: Path) -> None:
    left = []
    for how in (run, run_alone):
        folder = tmp_path / how.__name__
        folder.mkdir()
        (folder / "p.toml").write_text(POSITION + LADDER + GOAL, encoding="utf-8")
        (folder / "bad.toml").write_text("table = 3\n", encoding="utf-8")
        (folder / "record.toml").write_text(run("gauge", "new").out, encoding="utf-8")
        before = {one.name for one in folder.iterdir()}
        ran = how(command, *EACH[command], folder=folder)
        made = sorted({one.name for one in folder.iterdir()} - before)
        left.append((ran, made))
    assert left[0] == left[1]
    assert left[0][0].code == (2 if command in REFUSED else 0)


def test_the_next_command_is_named_as_this_one_was_called(tmp_path: Path) -> None:
    # As after an installation whose folder isn't on the path; and once it is.
    script = tmp_path / "bin" / "stunline"
    script.parent.mkdir()
    script.write_text(
        f"#!{sys.executable}\nfrom stunline.cli.main import main\nmain()\n", encoding="utf-8"
    )
    script.chmod(0o755)
    environment = dict(os.environ)
    for folders, name in (("", "bin/stunline"), (f"{script.parent}:", "stunline")):
        environment["PATH"] = f"{folders}/usr/bin:/bin"
        done = subprocess.run(
            ["bin/stunline", "new", f"{len(folders)}.toml"],
            cwd=tmp_path, env=environment, capture_output=True, text=True, check=True,
        )  # fmt: skip
        assert (
            done.stdout == f"{len(folders)}.toml written. Next: {name} shot {len(folders)}.toml\n"
        )
