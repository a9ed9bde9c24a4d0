"""``stunline gauge``: a record started, fitted and written as a table, two tables compared."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cli import schemas
from cli.command import Ran, run

DOCS = Path(__file__).resolve().parents[2] / "docs" / "gauging.md"


def record_of_the_page() -> str:
    return re.findall(r"```toml\n(.+?)```", DOCS.read_text(encoding="utf-8"), re.DOTALL)[0]


def good(done: Ran) -> Ran:
    assert done.code == 0, done.err
    assert done.err == ""
    return done


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """With the page's record, one with mistakes, and tables gauged from both."""
    place = tmp_path_factory.mktemp("gauge")
    text = record_of_the_page()
    (place / "record.toml").write_text(text, encoding="utf-8")
    wrong = text.replace("[891, 1540]", "[891, 1740]").replace("time = 5.25", "tme = 5.25")
    (place / "wrong.toml").write_text(wrong, encoding="utf-8")
    for name in ("record", "wrong"):
        done = good(run("gauge", "fit", f"{name}.toml", "-o", f"{name}-gauged.toml", folder=place))
        assert f'table = "{name}-gauged.toml"' in done.out
    (place / "mine").mkdir()
    done = good(run("gauge", "fit", "record.toml", "-o", "mine/t.toml", folder=place))
    # As it is named from a position that stands beside it.
    assert 'In a position in the same folder: table = "t.toml"' in done.out
    return place


def test_json_is_as_promised(folder: Path) -> None:
    shape = good(run("gauge", "fit", "record.toml", "--json", folder=folder)).shape
    assert schemas.faults("gauge", shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS["gauge"], "gauge") == []
    assert shape["mistakes"] == []
    for one in shape["estimates"]:
        low, high = one["interval"]
        assert low <= one["value"] <= high


def test_mistakes_are_told_and_the_rest_is_fitted(folder: Path) -> None:
    shape = good(run("gauge", "fit", "wrong.toml", "--json", folder=folder)).shape
    assert schemas.faults("gauge", shape) == []
    (mistake,) = shape["mistakes"]
    line = (folder / "wrong.toml").read_text().split("\n").index("tme = 5.25") + 1
    assert (mistake["line"], mistake["file"]) == (line, "wrong.toml")
    assert shape["measurements"] == 6
    text = good(run("gauge", "fit", "wrong.toml", folder=folder)).out
    assert f"wrong.toml:{line}: measured.tme: there is no such key here" in text


def test_text_is_that_of_the_page(folder: Path) -> None:
    out = good(run("gauge", "fit", "record.toml", folder=folder)).out
    shown = re.findall(r"```text\n(.+?)```", DOCS.read_text(encoding="utf-8"), re.DOTALL)[0]
    # Last digits may differ with the machine's linear algebra; words and order may not.
    assert re.sub(r"[-+]?[\d.]+", "#", out) == re.sub(r"[-+]?[\d.]+", "#", shown)
    assert max(map(len, out.splitlines())) <= 96


def test_a_gauged_table_is_played_on(folder: Path) -> None:
    text = 'table = "record-gauged.toml"\n[balls]\nwhite = [889, 428]\n[strike]\n'
    (folder / "shot.toml").write_text(f"{text}aim = 90.0\npace = 1.0\n", encoding="utf-8")
    out = good(run("shot", "shot.toml", folder=folder)).out
    assert "match cloth: gauged 2026-11-29" in out


def test_sampled_on_request(folder: Path) -> None:
    asked = ("gauge", "fit", "record.toml", "--sample", "--steps", "60")
    done = good(run(*asked, "--json", folder=folder))
    assert schemas.faults("gauge", done.shape) == []
    sampled = done.shape["sampled"]
    assert (sampled["steps"], sampled["steps_wanted"]) == (60, 60)
    assert not sampled["converged"]
    names = [one["name"] for one in done.shape["estimates"]]
    assert [one["name"] for one in sampled["estimates"]] == names
    assert all(
        one["interval"][0] <= one["value"] <= one["interval"][1] for one in sampled["estimates"]
    )
    out = good(run(*asked, folder=folder)).out
    assert "Not converged: don't rely on it." in out
    assert max(map(len, out.splitlines())) <= 96


def test_what_to_measure_next_in_json_and_in_words(folder: Path) -> None:
    shape = good(run("gauge", "next", "record.toml", "--json", folder=folder)).shape
    assert schemas.faults("gauge-next", shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS["gauge-next"], "gauge-next") == []
    bands = [shape["band_mm"], *(one["band_mm"] for one in shape["next"])]
    assert bands == sorted(bands, reverse=True)
    assert all(one["band_mm"] <= shape["band_mm"] for one in shape["shots"])
    assert len(shape["shots"]) == 16
    out = good(run("gauge", "next", "record.toml", folder=folder)).out
    for one in shape["next"]:
        assert f"{one['shot']}" in out
    assert f"±{shape['band_mm']:.0f} mm" in out
    shown = re.findall(r"```text\n(.+?)```", DOCS.read_text(encoding="utf-8"), re.DOTALL)[1]
    assert re.sub(r"[-+]?[\d.]+", "#", out) == re.sub(r"[-+]?[\d.]+", "#", shown)
    assert max(map(len, out.splitlines())) <= 96


def test_what_to_measure_next_for_a_shot_at_hand(folder: Path) -> None:
    head = 'table = "snooker-12ft"\n[balls]\n'
    text = f"{head}white = [889, 428]\n[strike]\naim = 90.0\n"
    (folder / "up.toml").write_text(f"{text}pace = 1.2\n", encoding="utf-8")
    done = run("gauge", "next", "record.toml", "--for", "up.toml", "--json", folder=folder)
    shape = good(done).shape
    assert shape["for"] == "up.toml"
    # Straight up the table: rolling tells of its end, and twirling doesn't.
    alone = {one["shot"]: one["band_mm"] for one in shape["shots"]}
    assert alone["roll-down"] < 0.99 * shape["band_mm"]
    assert alone["twirl"] == pytest.approx(shape["band_mm"], rel=1e-3)
    (folder / "in.toml").write_text(
        f"{head}white = [200, 3369]\n[strike]\naim = 135.0\npace = 1.0\n", encoding="utf-8"
    )
    refused = run("gauge", "next", "record.toml", "--for", "in.toml", folder=folder)
    assert refused.code == 2
    assert "the white falls in this shot" in refused.err


def test_two_tables_compared(folder: Path) -> None:
    both = ("gauge", "compare", "record-gauged.toml", "wrong-gauged.toml")
    shape = good(run(*both, "--json", folder=folder)).shape
    assert schemas.faults("gauge-compare", shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS["gauge-compare"], "gauge-compare") == []
    out = good(run(*both, folder=folder)).out
    rolling = next(one for one in shape["changes"] if one["name"] == "rolling_resistance")
    assert rolling["after"] > rolling["before"]  # farther in the same time: 2d/(g t²)
    assert "rolling resistance" in out
    assert "noise" in out
    same = good(run("gauge", "compare", "record-gauged.toml", "record-gauged.toml", folder=folder))
    assert "Taken together nothing changed for sure" in same.out


def test_a_record_is_started_and_not_overwritten(tmp_path: Path) -> None:
    printed = good(run("gauge", "new", "--full"))
    assert printed.out.count("[[measured]]") == 12
    good(run("gauge", "new", "mine.toml", "--table", "pool-9ft", folder=tmp_path))
    text = (tmp_path / "mine.toml").read_text(encoding="utf-8")
    assert text.count("[[measured]]") == 3
    assert 'table = "pool-9ft"' in text
    again = run("gauge", "new", "mine.toml", folder=tmp_path)
    assert again.code == 2
    assert "not overwritten" in again.err
    assert (tmp_path / "mine.toml").read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("fit", "nothing.toml"), "there is no such file"),
        (("fit", "mine.toml"), "nothing in this record can be used"),
        (("fit", "mine.toml", "--sample", "--steps", "3"), "no number of steps for the sampler"),
        (("fit", "mine.toml", "-o", "table.svg"), "the gauged table is a TOML file"),
        (("fit", "mine.toml", "-o", "nowhere/table.toml"), "its folder does not exist"),
        (("compare", "snooker-12ft", "snooker-10ft"), "no cloth of this table was gauged"),
        (("new", "x.toml", "--table", "snooker-13ft"), "there is no table of that name"),
    ],
)
def test_what_can_not_be_done_is_said(
    arguments: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    good(run("gauge", "new", "mine.toml", folder=tmp_path))
    done = run("gauge", *arguments, folder=tmp_path)
    assert done.code == 2
    assert said in done.err
    assert "Traceback" not in done.err
    assert not (tmp_path / "x.toml").exists()


def test_a_record_sheet_is_printed_and_never_over_another_ending(tmp_path: Path) -> None:
    done = good(run("gauge", "sheet", folder=tmp_path))
    assert "gauging-record.pdf written: 3 shots, 1 page." in done.out
    assert (tmp_path / "gauging-record.pdf").read_bytes().startswith(b"%PDF")
    refused = run("gauge", "sheet", "-o", "record.png", folder=tmp_path)
    assert refused.code == 2
    assert "PDF only" in refused.err
