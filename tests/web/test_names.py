"""Names of positions: what may be a file's name, whatever is typed or sent."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stunline.errors import InputError
from stunline.tasks.save_names import (
    ENDING,
    MOST_BYTES,
    MOST_CHARACTERS,
    clean_name,
    numbered,
)


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("", "nothing to read"),
        ("   ", "nothing to read"),
        (" black", "begins or ends with a space"),
        ("..", "dot"),
        (".hidden", "dot"),
        ("black.", "dot"),
        ("../black", "sign that belongs to paths"),
        ("a/b", "sign that belongs to paths"),
        ("a\\b", "sign that belongs to paths"),
        ("black?", "sign that belongs to paths"),
        ("a\0b", "can't be seen"),
        ("a\nb", "can't be seen"),
        ("a\u202eb", "can't be seen"),  # turns the way of reading round
        ("a\ud800", "can't be seen"),  # half a character
        ("con", "device"),
        ("NUL.txt", "device"),
        ("x" * (MOST_CHARACTERS + 1), "too long"),
        ("Ω" * MOST_CHARACTERS + "Ω", "too long"),
        ("黒" * 80, "too long"),  # 240 bytes
    ],
)
def test_a_name_that_no_file_should_have_is_refused_with_the_reason(name: str, why: str) -> None:
    with pytest.raises(InputError) as refused:
        clean_name(name)
    (fault,) = refused.value.faults
    assert why in fault.what
    assert fault.given and fault.allowed
    assert clean_name(fault.remedy.strip('"')) == fault.remedy.strip('"')


@pytest.mark.parametrize("name", ["black", "Élan 2", "Blue, half-ball (left)", "黒", "a.b", "50 %"])
def test_ordinary_names_stay_as_they_are(name: str) -> None:
    assert clean_name(name) == name
    assert clean_name(name + ENDING) == name


def test_accents_have_one_spelling() -> None:
    assert clean_name(unicodedata.normalize("NFD", "Élan")) == unicodedata.normalize("NFC", "Élan")


@given(st.text(max_size=120))
def test_whatever_passes_is_one_plain_name_that_fits(text: str) -> None:
    try:
        name = clean_name(text)
    except InputError:
        return
    assert "/" not in name and "\0" not in name and not name.startswith(".")
    assert len(name.encode()) <= MOST_BYTES
    assert clean_name(name) == name


@pytest.mark.parametrize("name", ["black", "x" * MOST_CHARACTERS, "黒" * 66])
def test_a_number_behind_a_name_fits_too(name: str) -> None:
    assert clean_name(numbered(name, 999)) == numbered(name, 999)
    assert numbered(name, 2) != numbered(name, 3)
