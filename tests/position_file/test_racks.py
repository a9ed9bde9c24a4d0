"""Racks in a position file: a name alone, or with gaps and a seed."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from stunline.errors import InputError
from stunline.shot.position_file import parse_position
from stunline.shot.position_file.rack_value import SetRack
from stunline.tasks.document import document_of, toml_of

HEAD = 'table = "snooker-12ft"\n[strike]\naim = 90.0\npace = 3.0\n[balls]\nwhite = [889.0, 700.0]\n'
LOOSE = '{ rack = "triangle", gaps = 0.2, seed = 7 }'


def faults_of(reds: str) -> list[str]:
    """The messages for that line."""
    with pytest.raises(InputError) as caught:
        parse_position(f"{HEAD}reds = {reds}\n")
    assert [fault.line for fault in caught.value.faults] == [HEAD.count("\n") + 1]
    return caught.value.messages()


def test_gaps_stand_in_the_file() -> None:
    file = parse_position(f"{HEAD}reds = {LOOSE}\n")
    assert file.racks == {"reds": SetRack("triangle", 2e-4, 7)}
    reds = [place for name, place in file.position.balls.items() if name != "white"]
    assert len(reds) == 15
    nearest = min(math.dist(one, other) for one, other in combinations(reds, 2))
    assert 0.0 < nearest - 0.0525 < 2e-4
    again = parse_position(f"{HEAD}reds = {LOOSE}\n")
    assert again.position.balls == file.position.balls


def test_a_name_alone_touches() -> None:
    file = parse_position(f'{HEAD}reds = "triangle"\n')
    assert file.racks == {"reds": SetRack("triangle")}
    no_gaps = parse_position(f'{HEAD}reds = {{ rack = "triangle" }}\n')
    assert no_gaps.position.balls == file.position.balls


def test_gaps_can_be_in_inches() -> None:
    file = parse_position(f'{HEAD}reds = {{ rack = "triangle", gaps = "1/64 in" }}\n')
    assert file.racks["reds"].gaps == pytest.approx(0.0254 / 64)


@pytest.mark.parametrize(
    ("reds", "words"),
    [
        ('{ rack = "triangel", gaps = 0.2 }', ["triangel", '"triangle"']),
        ("{ gaps = 0.2 }", ["which rack"]),
        ('{ rack = "triangle", gaps = -0.1 }', ["gaps", "-0.1", "0 to 5 mm"]),
        ('{ rack = "triangle", gaps = "wide" }', ["gaps", "wide"]),
        ('{ rack = "triangle", gaps = 0.2, seed = 1.5 }', ["seed", "1.5", "whole number"]),
        ('{ rack = "triangle", seed = -1 }', ["seed", "-1"]),
        ('{ rack = "triangle", gap = 0.2 }', ["gap", "gaps"]),
    ],
)
def test_what_is_wrong_is_said_with_its_line(reds: str, words: list[str]) -> None:
    (message,) = faults_of(reds)
    assert all(word in message for word in words), message


def test_saving_from_the_page_keeps_the_rack() -> None:
    text = f"{HEAD}reds = {LOOSE}\n"
    document = document_of(text)
    document["strike"]["pace"] = 4.0
    kept = toml_of(document, text)
    assert f"reds = {LOOSE}" in kept
    fresh = parse_position(toml_of(document))
    assert fresh.racks == {"reds": SetRack("triangle", 2e-4, 7)}
