"""``stunline sheet``: the file it writes, what it says, what it refuses."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

import stunline
from cli import schemas
from cli.command import POSITION, run
from paper.pdf_reading import read_pdf
from stunline.errors import InputError
from stunline.tasks.print_sheet import Choices, print_sheets, read_sheets

BAD = POSITION.replace("height =", "hieght =")
SLOW = POSITION.replace("pace = 1.7", "pace = 0.4")  # too slow for its pot


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, text in (("p", POSITION), ("bad", BAD), ("slow", SLOW)):
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    return tmp_path


def written(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir() if one.suffix != ".toml")


def test_it_writes_a_pdf_named_after_the_file(folder: Path) -> None:
    ran = run("sheet", "p.toml", folder=folder)
    assert (ran.code, ran.err) == (0, "")
    assert written(folder) == ["p-sheet.pdf"]
    assert ran.out == "p-sheet.pdf written: 1 sheet on 1 page.\n"
    assert len(read_pdf((folder / "p-sheet.pdf").read_bytes())) == 1


def test_the_foot_has_no_more_digits_than_a_coefficient_is_known_to(folder: Path) -> None:
    own = "[coefficients]\nsliding_friction = 0.231274\nrolling_resistance = 0.0138829\n"
    (folder / "own.toml").write_text(POSITION + own, encoding="utf-8")
    assert run("sheet", "own.toml", folder=folder).code == 0
    (page,) = read_pdf((folder / "own-sheet.pdf").read_bytes())
    assert "sliding 0.231, rolling 0.0139" in " ".join(page.copied.split())


def test_several_files_make_one_booklet(folder: Path) -> None:
    ran = run("sheet", "p.toml", "stun-and-hold", folder=folder)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == "sheets.pdf written: 2 sheets on 3 pages.\n"
    assert len(read_pdf((folder / "sheets.pdf").read_bytes())) == 3


def test_the_json_is_as_promised(folder: Path) -> None:
    args = ("-o", "b.pdf", "--paper", "letter", "--date", "a day", "--json")
    ran = run("sheet", "p.toml", "up-and-down", *args, folder=folder)
    assert (ran.code, ran.err, ran.out.count("\n")) == (0, "", 1)
    shape = ran.shape
    assert schemas.faults("sheet", shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS["sheet"], "sheet") == []
    assert (shape["written"], shape["pages"], shape["paper"]) == ("b.pdf", 3, "letter")
    assert [one["file"] for one in shape["sheets"]] == ["p.toml", "up-and-down"]
    assert shape["engine"] == stunline.__version__
    for page in read_pdf((folder / "b.pdf").read_bytes())[1:]:
        assert (round(page.width, 1), round(page.height, 1)) == (215.9, 279.4)  # [X] 8.5 × 11 in
        assert "computed a day" in page.copied


def test_the_date_of_the_environment_makes_bytes_that_repeat(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1795564800")  # [X] 2026-11-25, 00:00 UTC
    for name in ("one.pdf", "two.pdf"):
        assert run("sheet", "p.toml", "-o", name, folder=folder).code == 0
    assert (folder / "one.pdf").read_bytes() == (folder / "two.pdf").read_bytes()
    assert "25 Nov 2026" in read_pdf((folder / "one.pdf").read_bytes())[0].copied
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "yesterday")
    ran = run("sheet", "p.toml", folder=folder)
    assert ran.code == 2 and "SOURCE_DATE_EPOCH" in ran.err and "yesterday" in ran.err


def test_where_several_are_wrong_all_faults_are_told_and_nothing_is_written(folder: Path) -> None:
    args = ("p.toml", "missing.toml", "bad.toml", "slow.toml", "also-missing.toml")
    ran = run("sheet", *args, folder=folder)
    assert (ran.code, ran.out) == (2, "")
    for name in args[1:]:
        assert f"{name}:" in ran.err
    assert "p.toml" not in ran.err
    assert written(folder) == []


def test_the_faults_of_several_are_one_object_too(folder: Path) -> None:
    ran = run("sheet", "bad.toml", "p.toml", "slow.toml", "--json", folder=folder)
    assert (ran.code, ran.out) == (2, "")
    assert schemas.faults("error", {"error": ran.error}) == []
    assert {fault["file"] for fault in ran.error["faults"]} == {"bad.toml", "slow.toml"}


def test_one_file_that_cannot_be_played_keeps_its_own_reason(folder: Path) -> None:
    ran = run("sheet", "p.toml", "slow.toml", "--json", folder=folder)
    assert (ran.code, ran.error["kind"], ran.error["reason"]) == (2, "unsolvable", "too-slow")
    assert written(folder) == []


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("p.toml", "-o", "sheet.png"), "PDF only"),
        (("p.toml", "-o", "nowhere/sheet.pdf"), "folder does not exist"),
        (("p.toml", "--paper", "a3"), "a3"),
        ((), "FILES"),
    ],
)
def test_what_it_refuses(folder: Path, args: tuple[str, ...], said: str) -> None:
    ran = run("sheet", *args, folder=folder)
    assert (ran.code, ran.out) == (2, "")
    assert said in ran.err
    assert written(folder) == []


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_may_not_be_written_to(folder: Path) -> None:
    shut = folder / "shut"
    shut.mkdir(mode=0o500)
    ran = run("sheet", "p.toml", "-o", "shut/sheet.pdf", folder=folder)
    assert ran.code == 2 and "can't be written" in ran.err
    assert list(shut.iterdir()) == []


def test_a_failure_while_writing_leaves_the_old_file(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "old.pdf").write_bytes(b"old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    result = print_sheets(read_sheets([str(folder / "p.toml")]), Choices())
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(InputError, match="no space left"):
        result.write(str(folder / "old.pdf"))
    assert (folder / "old.pdf").read_bytes() == b"old"
    assert written(folder) == ["old.pdf"]
