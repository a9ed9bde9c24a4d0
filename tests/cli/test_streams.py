"""Streams, signals and files: what a shell sees of the command."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import click
import pytest

import stunline
from cli.command import POSITION, PROGRESS, run
from stunline.cli import reporting
from stunline.cli.commands import Commands

STUNLINE = [sys.executable, "-m", "stunline"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "p.toml").write_text(POSITION, encoding="utf-8")
    ladder = '[ladder]\nvary = "height"\nvalues = [0.0, 4.0]\n'
    (tmp_path / "ladder.toml").write_text(POSITION + ladder, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(("command", "file"), [("shot", "p.toml"), ("ladder", "ladder.toml")])
def test_a_picture_may_be_written_beside_the_json(command: str, file: str, folder: Path) -> None:
    ran = run(command, file, "-o", "plan.svg", "--json", folder=folder)
    assert (ran.code, ran.err, ran.out.count("\n")) == (0, "", 1)
    assert ran.shape["engine"] == stunline.__version__
    plan = (folder / "plan.svg").read_text(encoding="utf-8")
    assert plan.startswith(("<svg", "<?xml"))
    assert plan.rstrip().endswith("</svg>")
    assert sorted(one.name for one in folder.iterdir()) == ["ladder.toml", "p.toml", "plan.svg"]


def test_a_picture_is_named_after_the_text(folder: Path) -> None:
    ran = run("shot", "p.toml", "-o", "plan.png", folder=folder)
    assert ran.out.splitlines()[-1] == "Plan written to plan.png"
    assert (folder / "plan.png").read_bytes().startswith(b"\x89PNG\r\n\x1a\n")


def test_the_module_is_the_command() -> None:
    command = Path(sys.executable).with_name("stunline")
    if not command.exists():
        pytest.skip("the package is on the path but not installed")
    for args in (["--help"], ["shot", "--help"], ["--version"], ["shot"], ["frob"]):
        ran = subprocess.run([command, *args], capture_output=True, text=True, check=False)
        again = run(*args)
        assert (ran.returncode, ran.stdout, ran.stderr) == (again.code, again.out, again.err)


def test_the_version() -> None:
    assert run("--version").out == f"stunline, version {stunline.__version__}\n"


@pytest.mark.parametrize("args", [["shot", "p.toml"], ["shot", "p.toml", "--json"], ["--help"]])
def test_a_reader_that_goes_away_is_no_fault(args: list[str], folder: Path) -> None:
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "w") as closed:
        ran = subprocess.run(
            [*STUNLINE, *args],
            cwd=folder, stdout=closed, stderr=subprocess.PIPE, text=True, check=False,
        )  # fmt: skip
    assert ran.stderr == ""


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no device that is always full")
def test_a_full_disk_is_told(folder: Path) -> None:
    with open("/dev/full", "w") as full:
        ran = subprocess.run(
            [*STUNLINE, "equipment"],
            stdout=full, stderr=subprocess.PIPE, text=True, check=False,
        )  # fmt: skip
    assert ran.returncode == 2
    assert ran.stderr.startswith("the output can't be written: no space left on device; given")
    assert "Traceback" not in ran.stderr


def wait_for_reader(pipe: Path, child: subprocess.Popen[str]) -> int:
    """The pipe, opened for writing as soon as the child has opened it to read."""
    while child.poll() is None:
        try:
            return os.open(pipe, os.O_WRONLY | os.O_NONBLOCK)
        except OSError:  # nobody reads yet
            time.sleep(0.01)
    pytest.fail(f"the command ended before it was interrupted: {child.communicate()}")


def interrupted(child: subprocess.Popen[str]) -> tuple[str, str]:
    """What a command wrote that was interrupted while it waits for its input.

    A signal that comes in the instant before the command starts to wait does not wake it, so
    it is sent again, as anyone at a keyboard would do.
    """
    for _ in range(12):
        child.send_signal(signal.SIGINT)
        try:
            return child.communicate(timeout=5)
        except subprocess.TimeoutExpired:
            continue
    pytest.fail("the command does not heed interrupts")


def test_an_interrupt_is_one_line_and_130(folder: Path) -> None:
    os.mkfifo(folder / "pipe.toml")
    child = subprocess.Popen(
        [*STUNLINE, "shot", "pipe.toml", "-o", "plan.svg"],
        cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        # A shell starts background jobs deaf to interrupts, and so would these tests.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )  # fmt: skip
    try:
        pipe = wait_for_reader(folder / "pipe.toml", child)
        # The child has just opened the pipe; an interrupt in the instants before it waits in
        # ``read`` is noticed only after that returns, as in any Python program.
        time.sleep(0.3)
        out, err = interrupted(child)
        os.close(pipe)
    finally:
        child.kill()
    assert (child.returncode, out) == (130, "")
    assert err == "interrupted; no file was left half written\n"
    assert not (folder / "plan.svg").exists()


@pytest.mark.parametrize(
    ("encoding", "written"), [("latin-1", "latin-1"), ("ascii", "utf-8"), ("utf-8", "utf-8")]
)
def test_no_character_stops_a_result(encoding: str, written: str, folder: Path) -> None:
    """Click takes a terminal that claims ASCII for a misconfigured one, and writes UTF-8."""
    for extra in ([], ["--json"]):
        ran = subprocess.run(
            [*STUNLINE, "shot", "p.toml", *extra],
            cwd=folder, capture_output=True, check=False,
            env={**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"},
        )  # fmt: skip
        assert ran.returncode == 0
        assert b"Traceback" not in ran.stderr
        text = ran.stdout.decode(written)
        if extra:
            assert json.loads(text)["strike"]["pace"] == 1.7
        else:
            assert ("\\u2192" if encoding == "latin-1" else "→") in text


def test_a_terminals_progress_line_overwrites_itself(capsys: pytest.CaptureFixture[str]) -> None:
    for second in range(3):
        reporting._overwriting(f"{PROGRESS}: {second} s")
    assert capsys.readouterr().err == "".join(f"{PROGRESS}: {second} s\r" for second in range(3))


def test_in_a_file_progress_is_a_line_now_and_one_every_ten_seconds(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = iter(range(1000, 1026))
    monkeypatch.setattr(reporting.time, "monotonic", lambda: float(next(clock)))
    report = reporting._now_and_then()
    for second in range(26):
        report(f"{PROGRESS}: {second} s")
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.splitlines() == [f"{PROGRESS}: {second} s" for second in (0, 10, 20)]


def test_help_comes_without_the_engine() -> None:
    """Nothing heavy is imported for help, and no drawing for a shot that is only told."""
    code = (
        "import sys; from stunline.cli.main import main\n"
        "try: main(['shot', '--help'])\n"
        "except SystemExit: pass\n"
        "print(*sorted({name.split('.')[0] for name in sys.modules}))"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(ran.stdout.splitlines()[-1].split())
    assert "stunline" in loaded
    assert not loaded & {"numba", "numpy", "tree_sitter", "resvg_py", "platformdirs"}


def test_text_comes_without_drawing_or_syntax_trees(folder: Path) -> None:
    code = (
        "import sys; from stunline.cli.main import main\n"
        "try: main(['shot', 'p.toml'])\n"
        "except SystemExit: pass\n"
        "print(*sorted(sys.modules))"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=folder, capture_output=True, text=True, check=True
    )
    loaded = set(ran.stdout.splitlines()[-1].split())
    assert "stunline.shot.play" in loaded
    unneeded = {"tree_sitter", "resvg_py", "stunline.drawing", "jsonschema"}
    assert not loaded & unneeded


def test_commands_are_a_click_group_that_any_shell_can_complete() -> None:
    assert issubclass(Commands, click.Group)
    ran = subprocess.run(
        STUNLINE, capture_output=True, text=True, check=False,
        env={**os.environ, "_STUNLINE_COMPLETE": "bash_source"},
    )  # fmt: skip
    assert "stunline" in ran.stdout
    assert ran.returncode == 0
