"""A table file that says only what differs: ``based_on`` another table, the rest is taken over.

Sections are laid over one another key by key; a number with its unit and source, a list or a
text replaces the other whole. ``leave_out`` names whole sections that are not taken over,
such as another game's set of balls. What is taken over says so in its source.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from stunline.errors import Fault
from stunline.files.text_file import read_text_file
from stunline.files.toml_fields import Faults
from stunline.files.toml_lines import parse_toml
from stunline.files.words import kind_of, listed, nearest_name, quoted, shown

_SHIPPED = Path(__file__).parent / "data"
_SUFFIX = ".toml"
KEY, LEAVE_OUT = "based_on", "leave_out"
STANDARD = "snooker-12ft"  # named in examples, and stands in for a table that is not known
_TAKEN_OVER = "as "  # "as snooker-12ft: rules of the game …"

Values = dict[str, object]


@cache
def table_names() -> tuple[str, ...]:
    """Names of the shipped tables: snooker's, then other games', each from the largest down."""
    names = [path.stem for path in _SHIPPED.glob(f"*{_SUFFIX}")]
    return tuple(sorted(names, key=_by_game_and_size))


def _by_game_and_size(name: str) -> tuple[bool, str, int]:
    game, _, size = name.rpartition("-")
    feet = int("".join(letter for letter in size if letter.isdigit()) or "0")
    return game != STANDARD.rpartition("-")[0], game, -feet


def shipped_table_path(name: str) -> Path:
    """The file of a shipped table."""
    return _SHIPPED / f"{name}{_SUFFIX}"


def is_table_file(name_or_path: str) -> bool:
    """Whether the words name a file rather than a shipped table."""
    return name_or_path.endswith(_SUFFIX) or "/" in name_or_path or "\\" in name_or_path


def unknown_table(name: str) -> Fault:
    """The fault of a name that is no shipped table's."""
    game = name.strip().lower()
    of_that_game = next((one for one in table_names() if one.startswith(game)), None)
    near = of_that_game or nearest_name(name, table_names())
    return Fault(
        what="there is no table of that name",
        given=f'"{name[:60]}"',
        allowed=f"{quoted(table_names())}, or the path of a table file ending in .toml",
        remedy=f'"{near or STANDARD}"',
        key="table",
    )


def base_path(value: object, folder: Path | None) -> Path | Fault:
    """The file that ``based_on`` names: a shipped table, or a file beside this one."""
    if isinstance(value, str) and value in table_names():
        return shipped_table_path(value)
    if isinstance(value, str) and is_table_file(value):
        if folder is not None and Path(value).name == value:
            return folder / value
        return Fault(
            "the table that this one is based on must stand beside it",
            given=shown(value),
            allowed=f"the name of a file in the same folder, or a shipped table: "
            f"{quoted(table_names())}",
            remedy=f'"{STANDARD}"',
        )
    if isinstance(value, str):
        return unknown_table(value)
    return Fault(
        f"the table that this one is based on must be named, not {kind_of(value)}",
        given=shown(value),
        allowed=f"{quoted(table_names())}, or a table file beside this one",
        remedy=f'"{STANDARD}"',
    )


def with_base(
    values: Values, folder: Path | None, faults: Faults, above: tuple[Path, ...] = ()
) -> Values | None:
    """The file's values over those of the table that it is based on; itself without one.

    Args:
        values: as they stand in the file
        folder: that the file stands in; None when it is no file
        faults: where faults are noted, and then None is given back
        above: files that are based on this one, this one among them

    Raises:
        InputError: the other file can't be read, or isn't TOML.
    """
    if KEY not in values:
        return values
    path = base_path(values[KEY], folder)
    if isinstance(path, Fault):
        faults.add((KEY,), path.what, given=path.given, allowed=path.allowed, remedy=path.remedy)
        return None
    if path.resolve() in above:
        faults.add(
            (KEY,),
            "a table can't be based on itself",
            given=shown(values[KEY]),
            allowed="another table, which isn't based on this one in turn",
            remedy=f'"{STANDARD}"',
        )
        return None
    text = read_text_file(path, "a table file")
    own = parse_toml(text, str(path))
    base = with_base(own, path.parent, faults, (*above, path.resolve()))
    if base is None:
        return None
    left_out = _left_out(values, base, faults)
    kept = {key: value for key, value in base.items() if key not in (*left_out, KEY, LEAVE_OUT)}
    return _laid_over(kept, values, path.stem)


def _left_out(values: Values, base: Values, faults: Faults) -> tuple[str, ...]:
    """Sections of the base that are not taken over."""
    sections = tuple(key for key, value in base.items() if isinstance(value, dict))
    value = values.get(LEAVE_OUT, [])
    if not isinstance(value, list) or not all(name in sections for name in value):
        strange = value if not isinstance(value, list) else [n for n in value if n not in sections]
        faults.add(
            (LEAVE_OUT,),
            "what is left out must be a list of sections of the table that this one is based on",
            given=shown(strange),
            allowed=f"a list of {listed(sections)}",
            remedy='["balls", "groups", "racks"]',
        )
        return ()
    return tuple(value)


def _laid_over(base: Mapping[str, object], own: Mapping[str, object], origin: str) -> Values:
    """Both, the own values where both have one."""
    both = {key: _taken_over(value, origin) for key, value in base.items() if key not in own}
    for key, value in own.items():
        below = base.get(key)
        if _is_section(value) and _is_section(below):
            both[key] = _laid_over(below, value, origin)  # type: ignore[arg-type]
        else:
            both[key] = value
    # In the base's order, so that a set of balls and a list of cloths keep theirs.
    return {key: both[key] for key in (*base, *(name for name in own if name not in base))}


def _is_section(value: object) -> bool:
    return isinstance(value, dict) and "value" not in value


def _taken_over(value: object, origin: str) -> object:
    """The value, each source in it marked with the table that it comes from."""
    if not isinstance(value, dict):
        return value
    marked = {key: _taken_over(inner, origin) for key, inner in value.items()}
    source = value.get("source")
    if "value" in value and isinstance(source, str) and not source.startswith(_TAKEN_OVER):
        marked["source"] = f"{_TAKEN_OVER}{origin}: {source}"
    return marked
