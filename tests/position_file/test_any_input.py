"""Whatever stands in a file, reading gives a position or an InputError, never another error."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stunline.errors import InputError
from stunline.shot.position_file import parse_position, read_position_file
from stunline.shot.position_file.shipped import shipped_position_path, shipped_positions

KEYS = st.sampled_from(
    [
        "title", "table", "cloth", "units", "coefficients", "balls", "strike", "ladder", "goal",
        "played", "white_rest", "white_cushion", "potted", "in_off",
        "white", "black", "reds", "red1", "pot", "contact", "aim", "pace", "height", "arrive",
        "side", "elevation", "ball", "pocket", "thickness", "on", "vary", "values", "meet",
        "through", "between", "rest", "circle", "polygon", "next", "cut", "touch", "miss",
        "cushions", "in_off", "player", "gravity", "ball_friction",
    ]
)  # fmt: skip
WORDS = st.sampled_from(
    ["snooker-12ft", "match", "black", "red1", "triangle", "top right", "pocket weight", "half",
     "2.5 lengths", "11 5/8 in", "D", "any red", "left", "max screw", "stun", "distance", "x.toml"]
)  # fmt: skip
SCALARS = (
    WORDS
    | st.text(st.characters(exclude_categories=["Cs", "Cc"], exclude_characters='"\\'), max_size=9)
    | st.integers(-(10**40), 10**40)
    | st.floats()
    | st.booleans()
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=12,
)


def toml(value: object) -> str:
    """A value as TOML writes it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, list):
        return f"[{', '.join(toml(item) for item in value)}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{key} = {toml(item)}' for key, item in value.items())} }}"
    return str(value)


def assert_read_or_refused(text: str) -> None:
    try:
        file = parse_position(text, "p.toml")
    except InputError as error:
        assert error.faults
        for fault in error.faults:
            assert fault.what and fault.given and fault.allowed and fault.remedy
            assert fault.line is not None
    else:
        assert file.position.table.cue_ball in file.position.balls


@given(st.dictionaries(KEYS, VALUES, max_size=7))
@settings(max_examples=300)
def test_any_toml_is_read_or_refused(values: dict[str, object]) -> None:
    assert_read_or_refused("\n".join(f"{key} = {toml(value)}" for key, value in values.items()))


@given(st.sampled_from(shipped_positions()), st.data())
@settings(max_examples=300)
def test_a_damaged_position_is_read_or_refused(name: str, data: st.DataObject) -> None:
    lines = shipped_position_path(name).read_text("utf-8").splitlines()
    for _ in range(data.draw(st.integers(1, 3))):
        index = data.draw(st.integers(0, len(lines) - 1))
        key = lines[index].split("=")[0]
        lines[index] = f"{key}= {toml(data.draw(VALUES))}"
    assert_read_or_refused("\n".join(lines))


@given(st.text(max_size=80))
@settings(max_examples=300)
def test_any_text_is_read_or_refused(text: str) -> None:
    assert_read_or_refused(text)


@given(st.binary(max_size=80))
def test_any_bytes_are_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, data: bytes
) -> None:
    path = tmp_path_factory.mktemp("any") / "p.toml"
    path.write_bytes(data)
    with pytest.raises(InputError):
        read_position_file(path)
