"""A document is its file: to text and back, comments, order and values kept."""

from __future__ import annotations

import json
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cli.command import POSITIONS, SHIPPED
from stunline.errors import InputError
from stunline.shot.position_file import parse_position
from stunline.tasks.document import document_of, toml_of

TEXT = """\
# Harbour Lane Cue Club, invented
title = 'Blue'   # in single quotes

table = "snooker-12ft"
[strike]         # before the balls
aim = 90.0
pace = 1e0       # as written
[balls]
# the white first
white = [ 500, 1200.50 ]
blue = "blue"
"""


def shipped(name: str) -> str:
    return (POSITIONS / f"{name}.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", SHIPPED)
def test_a_document_that_has_gone_through_a_browser_is_the_same_file(name: str) -> None:
    text = shipped(name)
    document = json.loads(json.dumps(document_of(text)))
    assert toml_of(document, text) == text
    assert parse_position(toml_of(document)) == parse_position(text)


def test_only_what_changed_is_written_anew() -> None:
    document = document_of(TEXT)
    document["balls"]["white"] = [510, 1200.5]
    expected = TEXT.replace("[ 500, 1200.50 ]", "[510, 1200.5]")
    assert toml_of(document, TEXT) == expected


def test_a_number_that_a_browser_writes_shorter_counts_as_unchanged() -> None:
    document = document_of(TEXT)
    document["strike"]["aim"] = 90
    assert toml_of(document, TEXT) == TEXT


def test_true_is_not_one() -> None:
    document = document_of(TEXT)
    document["strike"]["aim"] = True
    assert tomllib.loads(toml_of(document, TEXT))["strike"]["aim"] is True


def test_sections_and_keys_come_and_go() -> None:
    document = document_of(TEXT)
    del document["strike"]["aim"], document["title"]
    document["strike"]["pot"] = {"ball": "blue", "pocket": "top right"}
    document["cloth"] = "club"
    document["ladder"] = {"vary": "pace", "values": [1.0, "2 lengths"]}
    written = toml_of(document, TEXT)
    assert tomllib.loads(written) == document
    assert "# the white first" in written and "# before the balls" in written


def test_a_file_that_is_no_toml_is_written_afresh() -> None:
    document = document_of(TEXT)
    assert tomllib.loads(toml_of(document, "this = is [not TOML")) == document


def test_what_json_lacks_is_refused_by_the_checks_and_not_by_the_browser() -> None:
    document = document_of(TEXT.replace("aim = 90.0", "aim = nan"))
    assert json.loads(json.dumps(document, allow_nan=False)) == document
    with pytest.raises(InputError, match="aim"):
        parse_position(toml_of(document))


VALUES = (
    st.booleans()
    | st.integers(-(2**53), 2**53)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(codec="utf-8"), max_size=12)
)
NESTED = st.recursive(
    VALUES,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.text(st.characters(codec="utf-8"), max_size=6), inner, max_size=3)
    ),
    max_leaves=10,
)
DOCUMENTS = st.dictionaries(st.text(st.characters(codec="utf-8"), max_size=8), NESTED, max_size=5)


@given(new=DOCUMENTS, old=DOCUMENTS)
def test_any_document_over_any_file_comes_back(new: dict[str, Any], old: dict[str, Any]) -> None:
    assert document_of(toml_of(new)) == new
    assert document_of(toml_of(new, toml_of(old))) == new
