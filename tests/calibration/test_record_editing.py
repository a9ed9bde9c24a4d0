"""A record's text as it is changed: the values as meant, every other line as it was."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping

import pytest

from stunline.calibration.record_editing import UnwrittenError, Value, with_play_again, with_values
from stunline.calibration.record_file import parse_open_record
from stunline.calibration.record_writing import new_record

FILLED: tuple[tuple[int, Mapping[str, Value]], ...] = (
    (0, {"white_rest": [891, 1540], "time": 4.15}),
    (7, {"white_cushion": {"cushion": "right", "at": 2719}, "object_rest": ["6 1/4 in", 2445]}),
    (10, {"turns": 32}),
    (11, {"turns": "thirty", "timed_by": "frames"}),
)


def test_every_line_but_those_filled_in_stays_as_it_was() -> None:
    text = before = new_record(full=True)
    for number, values in FILLED:
        text = with_values(text, number, values)
    old, new = before.splitlines(), text.splitlines()
    assert len(old) == len(new)  # each took the place of the line that waited for it
    changed = [line for one, line in zip(old, new, strict=True) if one != line]
    assert len(changed) == sum(len(values) for _, values in FILLED)
    entries = tomllib.loads(text)["measured"]
    for number, values in FILLED:
        assert entries[number].items() >= dict(values).items()
    assert "at = 2719 }  # mm" in text


def test_a_value_is_changed_again_and_taken_out_again() -> None:
    text = with_values(new_record(), 0, {"time": 4.15})
    text = with_values(text, 0, {"time": "four"})
    assert tomllib.loads(text)["measured"][0]["time"] == "four"
    text = with_values(text, 0, {"time": None})
    assert "time" not in tomllib.loads(text)["measured"][0]
    text = with_values(text, 0, {"time": 4.2})
    assert tomllib.loads(text)["measured"][0]["time"] == 4.2
    assert text.count("4.2") == 1


def test_a_record_written_by_hand_keeps_its_hand() -> None:
    text = (
        'title = "by hand"\n[[measured]]\nshot = "roll-up"\n# a fair run\n'
        '[[measured]]\nshot = "twirl"\nturns = 30 # counted twice\n'
    )
    text = with_values(text, 0, {"white_rest": [889, 1540]})
    text = with_values(text, 1, {"turns": 31})
    assert text == (
        'title = "by hand"\n[[measured]]\nshot = "roll-up"\n# a fair run\n'
        'white_rest = [889, 1540]\n[[measured]]\nshot = "twirl"\nturns = 31  # counted twice\n'
    )


def test_played_again_stands_behind_the_first_and_is_set_up_the_same() -> None:
    text = with_values(new_record(), 0, {"white_rest": [891, 1540], "drop": 20})
    read = parse_open_record(with_play_again(text, 0))
    assert read.faults == ()
    again = read.record.unplayed[0]
    assert (again.name, again.number, again.drop) == ("roll-up (2)", 1, pytest.approx(0.02))
    assert [play.shot.id for play in read.record.unplayed[1:]] == ["cushion-square", "half-ball"]


@pytest.mark.parametrize(
    "text",
    [
        'measured = [{ shot = "roll-up" }]\n',
        '[[measured]]\nshot = "roll-up"\nwhite_rest = [\n  889,\n  1540,\n]\n',
    ],
)
def test_a_text_that_is_laid_out_otherwise_is_not_guessed_at(text: str) -> None:
    with pytest.raises(UnwrittenError):
        with_values(text, 0, {"white_rest": [1, 2]})


def test_what_the_page_asks_for_stands_in_the_new_record() -> None:
    text = new_record(
        table="pool-9ft", title='The "old" table', date="2026-11-29", cloth="", gap=30.0
    )
    read = parse_open_record(text)
    assert read.faults == ()
    assert (read.record.title, read.record.date) == ('The "old" table', "2026-11-29")
    assert read.record.ramp.gap == pytest.approx(0.030)
    assert len(read.record.unplayed) == 3
