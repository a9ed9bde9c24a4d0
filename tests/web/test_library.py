"""The library's folder: what is listed, found, renamed, copied, deleted, and never followed."""

from __future__ import annotations

import os
import unicodedata
from pathlib import Path
from typing import Any

import pytest

from stunline.errors import InputError
from stunline.tasks.document import document_of
from stunline.tasks.library import Library, MissingPositionError, TakenNameError, open_library
from stunline.tasks.library_changes import (
    delete_position,
    duplicate_position,
    rename_position,
    undo_delete,
)
from stunline.tasks.library_list import list_positions
from stunline.tasks.page_bounds import check_bounds
from stunline.tasks.page_open import open_position
from stunline.tasks.page_tables import page_tables
from stunline.tasks.save_position import ChangedMeanwhileError, save_position

SHIPPED = "edge-of-the-pack"
OWN_TABLE = 'based_on = "snooker-12ft"\ntitle = "Table 2"\n'


def document(title: str = "Blue", **changes: Any) -> dict[str, Any]:
    return {
        "title": title,
        "table": "snooker-12ft",
        "balls": {"white": [500.0, 1200.0], "blue": "blue"},
        "strike": {"aim": 90.0, "pace": 1.4},
        **changes,
    }


@pytest.fixture
def library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Library:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return open_library(str(tmp_path / "library"))


def own(library: Library) -> list[str]:
    return [one.name for one in list_positions(library).positions if one.changed]


def test_saving_a_shipped_position_makes_a_copy_with_its_comments(library: Library) -> None:
    opened = open_position(library, SHIPPED)
    assert opened.stored.shipped and opened.document is not None
    opened.document["strike"]["pace"] = 1.9
    saved = save_position(library, SHIPPED, opened.document, opened.stored.revision)
    assert "copy" in saved.note
    text = (library.folder / f"{SHIPPED}.toml").read_text(encoding="utf-8")
    assert text == opened.text.replace("pace = 1.7", "pace = 1.9")
    again = open_position(library, SHIPPED)
    assert not again.stored.shipped and again.stored.revision == saved.position.revision


def test_a_file_changed_outside_is_told_and_both_are_kept(library: Library) -> None:
    saved = save_position(library, "two", document(), None)
    path = library.folder / "two.toml"
    path.write_text(path.read_text() + "# from an editor\n")
    with pytest.raises(ChangedMeanwhileError) as told:
        save_position(library, "two", document("mine"), saved.position.revision)
    assert path.read_text().endswith("# from an editor\n")
    mine = told.value.mine.position
    assert document_of(library.read(mine.name).text())["title"] == "mine"
    # Once more the same, as an autosave does: no third file.
    with pytest.raises(ChangedMeanwhileError) as again:
        save_position(library, "two", document("mine"), saved.position.revision)
    assert again.value.mine.position.name == mine.name
    assert sorted(own(library)) == sorted(["two", mine.name])


def test_saving_what_already_stands_there_is_no_conflict(library: Library) -> None:
    saved = save_position(library, "same", document(), None)
    assert save_position(library, "same", document(), None).position == saved.position


def test_a_file_that_has_gone_is_made_again(library: Library) -> None:
    saved = save_position(library, "gone", document(), None)
    (library.folder / "gone.toml").unlink()
    again = save_position(library, "gone", document("new"), saved.position.revision)
    assert "gone from the library" in again.note
    assert own(library) == ["gone"]


def test_the_list_is_searched_by_words_of_name_and_title(library: Library) -> None:
    save_position(library, "Élan", document("Über the blue"), None)
    save_position(library, "other", document("Pink"), None)
    for search in ("elan", "ÜBER blue", "uber elan", "é"):
        assert "Élan" in [one.name for one in list_positions(library, search).positions], search
    assert list_positions(library, "elan pink").positions == ()


def test_the_list_tells_faults_and_leaves_out_what_is_no_position(library: Library) -> None:
    (library.folder / "bad.toml").write_text('table = "snooker-12ft"\n[balls]\n')
    (library.folder / "worse.toml").write_text("not TOML")
    (library.folder / "mine.toml").write_text(OWN_TABLE)
    (library.folder / "link.toml").symlink_to(library.folder / "bad.toml")
    os.mkfifo(library.folder / "pipe.toml")
    (library.folder / "wrong:name.toml").write_text("")
    listing = list_positions(library)
    faults = {one.name: one.fault for one in listing.positions if one.changed}
    assert set(faults) == {"bad", "worse"} and all(faults.values())
    assert {file for file, _ in listing.left_out} == {
        "mine.toml",
        "link.toml",
        "pipe.toml",
        "wrong:name.toml",
    }


def test_a_file_whose_accents_stand_apart_is_found_by_its_name(library: Library) -> None:
    apart = unicodedata.normalize("NFD", "Élan")
    (library.folder / f"{apart}.toml").write_text('table = "snooker-12ft"\n')
    assert "table" in library.read("Élan").text()
    assert own(library) == ["Élan"]


def test_rename_takes_no_name_that_is_taken(library: Library) -> None:
    save_position(library, "one", document("one"), None)
    save_position(library, "two", document("two"), None)
    with pytest.raises(TakenNameError):
        rename_position(library, "one", "two")
    assert rename_position(library, "one", "three").position.name == "three"
    assert sorted(own(library)) == ["three", "two"]
    with pytest.raises(MissingPositionError):
        rename_position(library, "one", "four")


def test_shipped_positions_stay_and_can_be_copied(library: Library) -> None:
    for change in (delete_position, lambda one, name: rename_position(one, name, "x")):
        with pytest.raises(InputError, match="stays as it is"):
            change(library, SHIPPED)
    assert duplicate_position(library, SHIPPED).position.name == f"{SHIPPED} 2"
    assert duplicate_position(library, SHIPPED).position.name == f"{SHIPPED} 3"


def test_what_was_deleted_comes_back_beside_what_took_its_name(library: Library) -> None:
    save_position(library, "one", document("old"), None)
    token = delete_position(library, "one")
    save_position(library, "one", document("new"), None)
    back = undo_delete(library, token)
    assert back.position.name == "one 2" and "taken" in back.note
    assert document_of(library.read("one 2").text())["title"] == "old"
    for wrong in (token, "", "..", "*", "0" * 24):
        with pytest.raises(MissingPositionError):
            undo_delete(library, wrong)


def test_a_link_is_neither_read_nor_written_through(library: Library, tmp_path: Path) -> None:
    outside = tmp_path / "outside.toml"
    outside.write_text('table = "snooker-12ft"\n')
    (library.folder / "link.toml").symlink_to(outside)
    with pytest.raises(InputError, match="link"):
        library.read("link")
    with pytest.raises(InputError, match="link"):
        save_position(library, "link", document(), None)
    assert outside.read_text() == 'table = "snooker-12ft"\n'
    (library.folder / ".deleted").symlink_to(tmp_path)
    save_position(library, "one", document(), None)
    with pytest.raises(InputError, match="link"):
        delete_position(library, "one")


@pytest.mark.parametrize(
    "table",
    ["../out.toml", "/etc/passwd", "sub/in.toml", "link.toml", "..\\out.toml", "~/x.toml",
     "based.toml", ".hidden.toml"],
)  # fmt: skip
def test_a_table_stands_in_the_library_or_is_shipped(
    library: Library, tmp_path: Path, table: str
) -> None:
    (tmp_path / "out.toml").write_text(OWN_TABLE)
    (library.folder / "sub").mkdir()
    (library.folder / "sub" / "in.toml").write_text(OWN_TABLE)
    (library.folder / "link.toml").symlink_to(tmp_path / "out.toml")
    (library.folder / "based.toml").write_text('based_on = "link.toml"\n')
    (library.folder / "mine.toml").write_text(OWN_TABLE)
    check_bounds(document(table="mine.toml"), library.folder)
    assert save_position(library, "own table", document(table="mine.toml"), None)
    with pytest.raises(InputError, match="must stand in the library"):
        check_bounds(document(table=table), library.folder)
    ladder = {"vary": "table", "values": ["mine.toml", table]}
    with pytest.raises(InputError, match="must stand in the library"):
        check_bounds(document(ladder=ladder), library.folder)
    assert "mine.toml" in [one["name"] for one in page_tables(library)]
    assert "link.toml" not in [one["name"] for one in page_tables(library)]


def test_balls_rungs_and_coefficients_are_bounded(library: Library) -> None:
    balls = {"white": [500.0, 500.0], "reds": "triangle"} | {
        name: name for name in ("yellow", "green", "brown", "blue", "pink", "black")
    }
    check_bounds(document(balls=balls), library.folder)
    for changes, told in [
        ({"balls": {**balls, "more": [1.0, 2.0]}}, "more balls"),
        ({"ladder": {"vary": "pace", "values": [1.0] * 41}}, "more rungs"),
        ({"coefficients": {"rolling_resistance": 1e-6}}, "roll for too long"),
        ({"coefficients": {"gravity": 0.1}}, "roll for too long"),
    ]:
        with pytest.raises(InputError, match=told):
            check_bounds(document(**changes), library.folder)
        with pytest.raises(InputError, match=told):
            save_position(library, "bounded", document(**changes), None)


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(InputError, match="can't be written to"):
        open_library(str(tmp_path / "file" / "library"))


def test_what_a_killed_process_left_is_cleared_away(library: Library) -> None:
    left = library.folder / ".saving-abc"
    left.write_text("half")
    open_library(str(library.folder))
    assert not left.exists()
