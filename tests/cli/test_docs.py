"""The pages on commands, JSON and read-outs say what the code does."""

from __future__ import annotations

import dataclasses
import json
import math
import re
from itertools import pairwise
from pathlib import Path
from typing import Any

import click
import pytest

from cli import schemas
from cli.command import POSITION, run, shipped
from stunline.cli.commands import Commands
from stunline.cli.main import main
from stunline.shot.readouts import Readouts
from stunline.shot.shot import EventKind, StopReason

DOCS = Path(__file__).resolve().parents[2] / "docs"
COMMANDS = [
    "open",
    "shot",
    "ladder",
    "pack",
    "choose",
    "margin",
    "explain",
    "played",
    "reach",
    "gauge",
    "sheet",
    "fullsize",
    "new",
    "check",
    "equipment",
]


def page(name: str) -> str:
    return (DOCS / f"{name}.md").read_text(encoding="utf-8")


def sections(name: str) -> dict[str, str]:
    """Heading of the second rank → the text under it."""
    parts = re.split(r"^## (.+)$", page(name), flags=re.MULTILINE)[1:]
    return dict(zip(parts[::2], parts[1::2], strict=True))


def examples(text: str) -> list[Any]:
    return [json.loads(one) for one in re.findall(r"```json\n(.+?)```", text, re.DOTALL)]


# --- commands ------------------------------------------------------------------------------


def options(command: str) -> set[str]:
    """Every option of a command, by the name that is shown first."""
    assert isinstance(main, Commands)
    found = main.get_command(None, command)  # type: ignore[arg-type]
    assert found is not None
    parts = list(found.commands.values()) if isinstance(found, click.Group) else [found]
    return {one.opts[0] for part in parts for one in part.params if one.param_type_name == "option"}


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_and_option_has_its_place_on_the_page(command: str) -> None:
    section = sections("commands")[f"`stunline {command}`"]
    assert set(re.findall(r"^\| `(-[^`]*)` \|", section, re.MULTILINE)) == options(command)
    assert f"| `stunline {command}" in page("commands")


def test_the_page_knows_every_command() -> None:
    assert isinstance(main, Commands)
    assert main.list_commands(None) == COMMANDS  # type: ignore[arg-type]
    assert set(re.findall(r"^## `stunline (\w+)`", page("commands"), re.MULTILINE)) == set(COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_examples_of_help_and_page_are_the_same(command: str) -> None:
    section = sections("commands")[f"`stunline {command}`"]
    shown = re.search(r"```sh\n(.+?)```", section, re.DOTALL)
    assert shown is not None
    helped = run(command, "--help").out.split("Examples:\n")[1].split("\n\n")[0]
    assert [line.strip() for line in helped.splitlines() if line.strip()] == (
        shown[1].strip().splitlines()
    )


# --- read-outs --------------------------------------------------------------------------------


def test_every_read_out_is_listed_with_its_unit_and_meaning() -> None:
    rows = re.findall(r"^\| `(\w+)` \| (.+?) \| (.+) \|$", page("readouts"), re.MULTILINE)
    assert rows == [
        (one.name, one.metadata["unit"] or "–", one.metadata["meaning"])
        for one in dataclasses.fields(Readouts)
    ]


def test_a_unit_in_the_name_is_the_unit_listed() -> None:
    endings = {"_mm": "mm", "_deg": "°", "_m_s": "m/s", "_s": "s", "_lengths": "lengths"}
    for one in dataclasses.fields(Readouts):
        said = next((endings[end] for end in endings if one.name.endswith(end)), None)
        unit = one.metadata["unit"]
        assert said in (None, unit) and (said is not None or unit in ("", "mm")), one.name


# --- JSON -----------------------------------------------------------------------------------


def is_cut_of(example: Any, real: Any) -> bool:
    """Whether the example is the real thing with keys and elements left out, numbers rounded."""
    if isinstance(example, dict):
        return isinstance(real, dict) and all(
            key in real and is_cut_of(value, real[key]) for key, value in example.items()
        )
    if isinstance(example, list):
        rest = iter(real)
        return all(any(is_cut_of(one, other) for other in rest) for one in example)
    if isinstance(example, str) and example.endswith("…"):
        return isinstance(real, str) and real.startswith(example[:-1])
    if isinstance(example, float) and isinstance(real, int | float):
        return math.isclose(example, real, rel_tol=1e-3, abs_tol=1e-3)
    return bool(example == real)


def section_of(command: str) -> str:
    (found,) = [text for head, text in sections("json").items() if f"stunline {command}" in head]
    return found


def test_the_comparison_sees_a_difference() -> None:
    real = {"a": [1.0, 2.0, 3.0], "b": {"c": "x", "d": None}}
    assert is_cut_of({"a": [1.0, 3.0002]}, real)
    assert is_cut_of({"b": {"c": "…"}}, real)
    for other in (
        {"a": [3.0, 1.0]},
        {"a": [1.1]},
        {"b": {"c": "y"}},
        {"b": {"c": "y…"}},
        {"b": {"d": 0}},
        {"e": 1},
    ):
        assert not is_cut_of(other, real)


@pytest.mark.parametrize(
    ("command", "name"),
    [
        ("shot", "edge-of-the-pack-low"),
        ("ladder", "edge-of-the-pack"),
        ("explain", "edge-of-the-pack"),
    ],
)
def test_examples_are_cut_from_what_shipped_positions_give(command: str, name: str) -> None:
    assert f"`{name}`" in section_of(command)
    (example,) = examples(section_of(command))
    real = shipped(command, name, "--json").shape
    assert is_cut_of(example, real)
    assert set(example) == set(real)


def test_the_example_of_pack_is_cut_from_what_a_shipped_position_gives() -> None:
    (example,) = examples(section_of("pack"))
    real = run("pack", "edge-of-the-pack", "--pace", "1.7", "--racks", "100", "--json").shape
    assert is_cut_of(example, real)
    assert set(example) == set(real)


def test_the_example_of_choose_is_cut_from_what_a_shipped_position_gives() -> None:
    (example,) = examples(section_of("choose"))
    real = run("choose", "stay-on-the-black", "--strikes", "2500", "--json").shape
    assert set(example) == set(real)
    assert set(example["options"][0]) == set(real["options"][0])
    for key in ("ranges", "player", "demands", "seed", "relaxations", "complete"):
        assert example[key] == real[key], key
    told, found = example["options"][0], real["options"][0]
    assert told["kind"] == found["kind"]
    assert told["chance"] == pytest.approx(found["chance"], abs=0.02)


def test_the_example_of_margin_is_cut_from_what_a_shipped_position_gives() -> None:
    (example,) = examples(section_of("margin"))
    real = run("margin", "six-foot-blue-then-pink", "--plays", "1024", "--json").shape
    assert is_cut_of(example, real)
    assert set(example) == set(real)


def test_the_example_of_played_is_cut_from_what_a_shipped_position_gives() -> None:
    (example,) = examples(section_of("played"))
    asked = ("played", "stun-and-hold", "--rest", "1010,3360", "--potted", "black", "--json")
    real = run(*asked).shape
    assert set(example) == set(real)
    for key in ("meant", "seen", "player", "prior", "explained", "level", "table_doubt"):
        assert is_cut_of(example[key], real[key]), key
    # Likely strokes are drawn: another machine's roundings draw others.
    told, found = example["off"]["pace"], real["off"]["pace"]
    assert told["interval"] == pytest.approx(found["interval"], abs=4.0)


def test_the_example_of_reach_is_cut_from_what_a_shipped_position_gives() -> None:
    (example,) = examples(section_of("reach"))
    real = run("reach", "stun-and-hold", "--at", "1600,3200", "--json").shape
    assert is_cut_of(example, real)
    assert set(example) == set(real)


def test_the_example_of_gauge_is_cut_from_the_record_of_its_page(tmp_path: Path) -> None:
    (example,) = examples(section_of("gauge fit"))
    text = re.findall(r"```toml\n(.+?)```", page("gauging"), re.DOTALL)[0]
    (tmp_path / "record.toml").write_text(text, encoding="utf-8")
    real = run("gauge", "fit", "record.toml", "--json", folder=tmp_path).shape
    assert is_cut_of(example, real)
    assert set(example) == set(real)


def test_the_example_of_full_size_is_cut_from_what_a_shipped_position_gives(tmp_path: Path) -> None:
    (example,) = examples(section_of("fullsize"))
    real = run("fullsize", "edge-of-the-pack", "--json", folder=tmp_path).shape
    assert is_cut_of(example, real)
    assert set(example) == set(real)


def test_examples_of_check_equipment_and_errors_are_cut_from_real_output(tmp_path: Path) -> None:
    for name, old, new in [
        ("black", "", ""),
        ("bad", "height =", "hieght ="),
        ("slow", "pace = 1.7", "pace = 0.4"),
    ]:
        text = POSITION.replace(old, new) if old else POSITION
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    (check,) = examples(section_of("check"))
    assert check == run("check", "--json", "black.toml", "bad.toml", folder=tmp_path).shape
    (equipment,) = examples(section_of("equipment"))
    assert is_cut_of(equipment, run("equipment", "--json").shape)
    faulty, refused = examples(sections("json")["Errors"])
    assert faulty["error"] == run("shot", "bad.toml", "--json", folder=tmp_path).error
    assert refused["error"] == run("shot", "slow.toml", "--json", folder=tmp_path).error


@pytest.mark.parametrize(
    "command",
    [
        "shot",
        "ladder",
        "choose",
        "explain",
        "played",
        "reach",
        "gauge fit",
        "gauge next",
        "gauge compare",
        "fullsize",
    ],
)
def test_every_key_of_a_shape_is_explained(command: str) -> None:
    schema = {"gauge fit": "gauge"}.get(command, command.replace(" ", "-"))
    cells = re.findall(r"^\| (`.+?) \|", section_of(command), re.MULTILINE)
    explained = {word for cell in cells for word in re.findall(r"`(\w+)`", cell)}
    assert set(schemas.SCHEMAS[schema]["properties"]) - {"engine"} <= explained


def words_of_table(first: str, last: str) -> set[str]:
    text = page("json").split(first)[1].split(last)[0]
    cells = re.findall(r"^\| (`.+?) \|", text, re.MULTILINE)
    return {word for cell in cells for word in re.findall(r"`([\w-]+)`", cell)}


def test_kinds_reasons_and_refusals_are_those_of_the_schemas() -> None:
    headings = ["### Events", "### Reasons for stopping", "## `stunline ladder"]
    kinds, reasons = (words_of_table(*pair) for pair in pairwise(headings))
    shot, error = schemas.SCHEMAS["shot"], schemas.SCHEMAS["error"]["$defs"]["error"]
    assert kinds == set(shot["$defs"]["event"]["properties"]["kind"]["enum"]) >= set(EventKind)
    assert reasons == set(shot["properties"]["stop_reason"]["enum"]) >= set(StopReason)
    assert words_of_table("## Errors", "\0") == (
        set(error["properties"]["reason"]["enum"]) - {"failed"}
    )
