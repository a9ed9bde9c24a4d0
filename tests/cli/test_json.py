"""The JSON of every command, as its schema promises and as the engine means it."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

import stunline
from cli import schemas
from cli.command import POSITION, POSITIONS, SHIPPED, Ran, run, shipped
from stunline.equipment.based_on import table_names
from stunline.shot.readouts import Readouts
from stunline.shot.shot import EventKind, StopReason


def good(ran: Ran) -> dict[str, Any]:
    """The one object that a command printed, with nothing beside it."""
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.count("\n") == 1
    return ran.shape


def promised(name: str, shape: dict[str, Any]) -> None:
    """The shape is as its schema says, and the schema names every key of it."""
    assert schemas.faults(name, shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS[name], name) == []


@pytest.mark.parametrize(
    "name", ["shot", "ladder", "sheet", "fullsize", "check", "equipment", "error"]
)
def test_a_schema_is_one(name: str) -> None:
    schema = schemas.SCHEMAS[name]
    Draft202012Validator.check_schema(schema)
    assert schema["$id"] == f"{name}.json"


@pytest.mark.parametrize("name", SHIPPED)
def test_a_shot_is_as_promised(name: str) -> None:
    shape = good(shipped("shot", name, "--json"))
    promised("shot", shape)
    assert shape["engine"] == stunline.__version__
    assert shape["events"][0]["kind"] == "strike"
    times = [event["time"] for event in shape["events"]]
    assert times == sorted(times)
    for ball in shape["balls"].values():
        assert (ball["rest"] is None) == (ball["potted"] is not None)
    for event in shape["events"]:
        assert set(event["after"]) == set(event["balls"])
        assert set(event["balls"]) <= set(shape["balls"])


@pytest.mark.parametrize("name", ["stay-on-the-black", "edge-of-the-pack"])
def test_the_doubt_of_a_shot_is_of_the_tables_counted(name: str) -> None:
    shape = good(shipped("shot", name, "--json"))
    doubt, reads = shape["doubt"], shape["readouts"]
    assert doubt["basis"] == "assumed" and doubt["stated"] == []
    assert doubt["same"] + sum(one["tables"] for one in doubt["others"]) == doubt["tables"] == 100
    assert set(doubt["intervals"]) <= set(reads)
    throw = doubt["intervals"]["throw_deg"]
    assert throw["low"] < reads["throw_deg"] < throw["high"]
    x, y = shape["balls"]["white"]["rest"]
    assert doubt["rest"]["x"]["low"] < x < doubt["rest"]["x"]["high"]
    assert doubt["rest"]["y"]["low"] < y < doubt["rest"]["y"]["high"]


def test_doubt_can_be_left_out() -> None:
    shape = good(shipped("shot", "stay-on-the-black", "--json", "--no-doubt"))
    promised("shot", shape)
    assert shape["doubt"] is None
    shape = good(shipped("ladder", "stay-on-the-black", "--json", "--no-doubt"))
    promised("ladder", shape)
    assert shape["steps"] is None
    assert all(rung["doubt"] is None for rung in shape["rungs"])


@pytest.mark.parametrize("name", SHIPPED)
def test_a_ladder_is_as_promised(name: str) -> None:
    shape = good(shipped("ladder", name, "--json"))
    promised("ladder", shape)
    bands, changes = shape["bands"], shape["changes"]
    assert [change["at"] for change in changes] == [band["from"] for band in bands[1:]]
    assert [band["to"] for band in bands[:-1]] == [band["from"] for band in bands[1:]]
    for change, before, after in zip(changes, bands, bands[1:], strict=False):
        assert (change["from"], change["to"]) == (before["outcome"], after["outcome"])
    for rung in shape["rungs"]:
        if rung["value"] is not None and shape["vary"] in rung["strike"]:
            assert rung["strike"][shape["vary"]] == pytest.approx(rung["value"], abs=1e-12)


def test_a_rung_is_the_shot_at_its_value() -> None:
    name = "edge-of-the-pack"
    shot = good(shipped("shot", name, "--json"))
    (rung,) = [one for one in good(shipped("ladder", name, "--json"))["rungs"]
               if one["value"] == shot["strike"]["pace"]]  # fmt: skip
    assert {key: rung[key] for key in shot} == shot


def test_schemas_allow_additions_but_no_other_kind() -> None:
    shape = good(shipped("shot", "up-and-down", "--json"))
    assert schemas.faults("shot", {**shape, "weather": "fine"}) == []
    assert schemas.unlisted({**shape, "weather": "fine"}, schemas.SCHEMAS["shot"], "shot") == [
        "$.weather"
    ]
    for key in shape:
        assert schemas.faults("shot", {one: shape[one] for one in shape if one != key})
        assert schemas.faults("shot", {**shape, key: 12})


def test_the_schema_of_read_outs_is_their_metadata() -> None:
    listed = schemas.SCHEMAS["shot"]["$defs"]["readouts"]
    meant = {
        field.name: field.metadata["meaning"]
        + (f" [{field.metadata['unit']}]" if field.metadata["unit"] else "")
        for field in dataclasses.fields(Readouts)
    }
    assert {key: one["description"] for key, one in listed["properties"].items()} == meant
    assert listed["required"] == list(meant)


def test_the_schema_knows_every_kind_of_event_and_every_stop_reason() -> None:
    shot = schemas.SCHEMAS["shot"]
    assert set(EventKind) <= set(shot["$defs"]["event"]["properties"]["kind"]["enum"])
    assert set(StopReason) <= set(shot["properties"]["stop_reason"]["enum"])


def test_check_and_equipment_are_as_promised(tmp_path: Path) -> None:
    files = [POSITIONS / f"{name}.toml" for name in SHIPPED]
    checked = good(run("check", "--json", *files))
    promised("check", checked)
    assert (len(checked["in_order"]), checked["errors"]) == (len(SHIPPED), [])
    shown = good(run("equipment", "--json"))
    promised("equipment", shown)
    assert [table["name"] for table in shown["tables"]] == list(table_names())
    for number in shown["tables"][0]["numbers"]:
        assert number["unit"]
        assert number["source"]


def test_check_prints_its_object_and_the_faults_of_all_files(tmp_path: Path) -> None:
    (tmp_path / "good.toml").write_text(POSITION, encoding="utf-8")
    (tmp_path / "bad.toml").write_text(POSITION.replace("1.7", "nan"), encoding="utf-8")
    ran = run("check", "--json", "good.toml", "bad.toml", "none.toml", folder=tmp_path)
    assert ran.code == 2
    promised("check", ran.shape)
    assert len(ran.shape["in_order"]) == 1
    assert ran.shape["in_order"][0].startswith("good.toml: in order.")
    promised("error", json.loads(ran.err))
    assert [fault["file"] for fault in ran.error["faults"]] == ["bad.toml", "none.toml"]
    assert ran.error["faults"] == [one["faults"][0] for one in ran.shape["errors"]]


@pytest.mark.parametrize("args", [["shot", "none.toml"], ["shot"], ["equipment", "none"]])
def test_errors_are_as_promised(args: list[str]) -> None:
    ran = run(*args, "--json")
    assert (ran.code, ran.out) == (2, "")
    promised("error", json.loads(ran.err))


def test_a_refusal_is_as_promised(tmp_path: Path) -> None:
    (tmp_path / "p.toml").write_text(POSITION.replace("1.7", "0.4"), encoding="utf-8")
    ran = run("shot", "p.toml", "--json", folder=tmp_path)
    assert (ran.code, ran.out) == (2, "")
    promised("error", json.loads(ran.err))


def as_strike(shape: dict[str, Any]) -> str:
    """The strike of a shot's JSON, typed into a position file."""
    return "[strike]\n" + "".join(f"{key} = {value!r}\n" for key, value in shape["strike"].items())


@pytest.mark.parametrize("name", SHIPPED)
def test_the_strike_typed_back_is_the_same_shot(name: str, tmp_path: Path) -> None:
    played = good(shipped("shot", name, "--json"))
    text = (POSITIONS / f"{name}.toml").read_text(encoding="utf-8")
    head, _, _rest = text.partition("[strike]")
    (tmp_path / "typed.toml").write_text(head + as_strike(played), encoding="utf-8")
    again = good(run("shot", "typed.toml", "--json", folder=tmp_path))
    assert "aim" in as_strike(played)
    assert again["strike"] == played["strike"]
    assert list(again["balls"]) == list(played["balls"])
    for ball, end in played["balls"].items():
        assert again["balls"][ball]["potted"] == end["potted"]
        assert again["balls"][ball]["rest"] == pytest.approx(end["rest"], abs=1e-9)  # mm
    assert again["events"] == played["events"]


def test_a_rung_typed_back_is_the_same_shot(tmp_path: Path) -> None:
    rung = good(shipped("ladder", "edge-of-the-pack", "--json"))["rungs"][-1]
    text = (POSITIONS / "edge-of-the-pack.toml").read_text(encoding="utf-8")
    head, _, _rest = text.partition("[strike]")
    (tmp_path / "typed.toml").write_text(head + as_strike(rung), encoding="utf-8")
    again = good(run("shot", "typed.toml", "--json", folder=tmp_path))
    assert again["balls"] == rung["balls"]
