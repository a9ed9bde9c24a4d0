"""The record sheet of gauging, read back from its PDF."""

from __future__ import annotations

import re
from pathlib import Path

import pypdfium2
import pytest

from paper.pdf_words import words_of
from stunline.calibration.menu import BY_ID, FULL, QUICK
from stunline.calibration.record import set_up_places
from stunline.calibration.record_file import parse_open_record
from stunline.calibration.record_writing import new_record
from stunline.equipment.catalogue import load_table
from stunline.errors import InputError
from stunline.paper.record_sheet import entries, record_sheet_pdf
from stunline.paper.sheet_format import format_of
from stunline.tasks.print_record import print_record

TABLE = load_table("snooker-12ft")


def words(pdf: bytes) -> list[str]:
    """Of each page, as they are copied out of it, without spaces and breaks."""
    document = pypdfium2.PdfDocument(pdf)
    return [bare(page.get_textpage().get_text_range()) for page in document]


def bare(text: str) -> str:
    return re.sub(r"[\s\u00a0\u00ad\ufffe-]", "", text).replace("'", "’")


@pytest.fixture(scope="module")
def dozen() -> list[str]:
    return words(print_record(None, full=True, date="29 Nov 2026").pdf)


def test_the_quick_check_is_one_page_and_a_letter_page() -> None:
    for paper in ("a4", "letter"):
        pages = words(print_record(None, paper=paper).pdf)
        assert len(pages) == 1
        for name in QUICK:
            assert bare(BY_ID[name].title) in pages[0]


def test_every_shot_says_what_to_set_do_and_write(dozen: list[str]) -> None:
    text = "".join(dozen)
    for name in dict.fromkeys(FULL):
        shot = BY_ID[name]
        for wanted in (shot.title, f"Tells {shot.tells}."):
            assert bare(wanted) in text, name
        white, other = set_up_places(shot, TABLE)
        if shot.tool == "fingers":
            continue
        for place in filter(None, (white, other)):
            assert f"left{1000 * place[0]:.0f}," in text
    assert text.count("whiterests") >= 10
    assert bare("ask them or those who care for them first") in text  # cameras and minors


def test_pages_are_numbered_and_nothing_lies_off_them(dozen: list[str]) -> None:
    for number, page in enumerate(dozen, 1):
        assert f"page{number}of{len(dozen)}" in page
    document = pypdfium2.PdfDocument(print_record(None, full=True, large_print=True).pdf)
    for sheet in document:
        for one in words_of(sheet):
            assert one.box.left >= 10.0
            assert one.box.right <= 200.0


def test_a_record_prints_what_is_left_to_play() -> None:
    text = new_record(full=True).replace("# white_rest = [0, 0]", "white_rest = [889, 2000]", 1)
    read = parse_open_record(text)
    found = entries(read.record)
    assert len(found) == len(FULL) - 1
    assert FULL[0] not in {entry.play.name for entry in found}
    pdf = record_sheet_pdf(read.record, found, format_of("a4", False), "", "0")
    assert bare(BY_ID[FULL[0]].title) not in "".join(words(pdf))


def test_the_plan_shows_where_the_record_sets_the_balls() -> None:
    text = new_record().replace("white = [889, 428]", "white = [700, 500]")
    entry = entries(parse_open_record(text).record)[0]
    assert entry.plan is not None
    balls = [mark for mark in entry.plan.marks if mark.id == "ball-white"]
    assert balls[0].centre == pytest.approx((700.0, 500.0))


def test_a_record_without_a_shot_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "record.toml"
    path.write_text('title = "nothing"\n', encoding="utf-8")
    with pytest.raises(InputError) as caught:
        print_record(str(path))
    assert "no shot" in caught.value.faults[-1].what


def test_places_stand_as_the_record_file_has_them(dozen: list[str]) -> None:
    text = "".join(dozen)
    written = re.findall(r"^(?:white|object) = \[(\d+), (\d+)\]", new_record(full=True), re.M)
    assert len(written) > 10
    for across, up in written:
        assert f"left{across},baulk{up}mm" in text


def test_a_changed_drop_has_a_line_and_a_touch_says_from_where(dozen: list[str]) -> None:
    text = "".join(dozen)
    timed = [
        BY_ID[name]
        for name in FULL
        if BY_ID[name].tool == "ramp" and "time" in BY_ID[name].readings
    ]
    assert timed and text.count(bare("the drop, if changed")) == len(timed)
    assert bare("along it, from the left or the baulk cushion") in text
    assert "from the left or the baulk cushion" in new_record()
