"""``stunline fullsize``: the file it writes, what it says, what it refuses."""

from __future__ import annotations

from pathlib import Path

import pytest

import stunline
from cli import schemas
from cli.command import POSITION, run
from paper.pdf_reading import read_pdf


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "p.toml").write_text(POSITION, encoding="utf-8")
    return tmp_path


def written(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir() if one.name != "p.toml")


def test_it_writes_a_pdf_named_after_the_file_and_says_how_to_print(folder: Path) -> None:
    ran = run("fullsize", "p.toml", folder=folder)
    assert (ran.code, ran.err) == (0, "")
    assert written(folder) == ["p-full-size.pdf"]
    pages = read_pdf((folder / "p-full-size.pdf").read_bytes())
    first, second = ran.out.splitlines()
    assert first.startswith(f"p-full-size.pdf written, {len(pages)} pages: a guide, ")
    assert "100 %" in second and "measure both 100 mm bars" in second
    assert "never play on paper" in second


def test_the_json_is_as_promised_and_tells_of_every_page(folder: Path) -> None:
    args = ("-o", "full.pdf", "--paper", "letter", "--around", "contact", "--json")
    ran = run("fullsize", "p.toml", *args, folder=folder)
    assert (ran.code, ran.err, ran.out.count("\n")) == (0, "", 1)
    shape = ran.shape
    assert schemas.faults("fullsize", shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS["fullsize"], "fullsize") == []
    assert (shape["written"], shape["paper"], shape["around"]) == ("full.pdf", "letter", "contact")
    assert shape["engine"] == stunline.__version__
    pages = read_pdf((folder / "full.pdf").read_bytes())
    assert len(shape["pages"]) == len(pages)
    for told, page in zip(shape["pages"], pages, strict=True):
        if told["kind"] == "tile":
            left, bottom, right, top = told["shows"]
            assert right - left < page.width and top - bottom < page.height
            assert told["name"] in page.copied.split()


def test_the_same_file_gives_the_same_bytes(folder: Path) -> None:
    for name in ("one.pdf", "two.pdf"):
        assert run("fullsize", "p.toml", "-o", name, folder=folder).code == 0
    assert (folder / "one.pdf").read_bytes() == (folder / "two.pdf").read_bytes()


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["nothing.toml"], "nothing.toml"),
        (["p.toml", "-o", "full.png"], "allowed: .pdf"),
        (["p.toml", "-o", "missing/full.pdf"], "its folder does not exist"),
        (["p.toml", "--paper", "a5"], "'a4', 'a3', 'letter'"),
        (["p.toml", "--around", "pink"], "'contact', 'white', 'all'"),
        (["p.toml", "--strip", "white"], "two names of balls"),
        (["p.toml", "--strip", "white,grey"], "no such ball"),
    ],
)
def test_what_cannot_be_used_is_refused_and_nothing_written(
    args: list[str], says: str, folder: Path
) -> None:
    ran = run("fullsize", *args, folder=folder)
    assert (ran.code, ran.out) == (2, "")
    assert says in ran.err
    assert written(folder) == []


def test_an_error_is_one_object_with_json(folder: Path) -> None:
    ran = run("fullsize", "p.toml", "--strip", "white,grey", "--json", folder=folder)
    assert ran.code == 2
    assert schemas.faults("error", {"error": ran.error}) == []
    assert written(folder) == []


def test_a_pot_that_cannot_be_made_ends_with_its_reason(folder: Path) -> None:
    (folder / "p.toml").write_text(POSITION.replace("pace = 1.7", "pace = 0.4"), encoding="utf-8")
    ran = run("fullsize", "p.toml", folder=folder)
    assert ran.code == 2 and "p.toml:" in ran.err
    assert written(folder) == []


def test_a_failure_leaves_the_old_file(folder: Path) -> None:
    (folder / "p-full-size.pdf").write_bytes(b"old")
    ran = run("fullsize", "p.toml", "--strip", "white,grey", folder=folder)
    assert ran.code == 2
    assert (folder / "p-full-size.pdf").read_bytes() == b"old"
