"""Files that are no position at all: missing, too large, of another encoding."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from stunline.errors import Fault, InputError
from stunline.files.text_file import SIZE_LIMIT
from stunline.shot.position_file import read_position_file

GOOD = 'table = "snooker-12ft"\n[balls]\nwhite = "brown"\n[strike]\naim = 90\npace = 1.7\n'


def unreadable(path: Path) -> Fault:
    with pytest.raises(InputError) as raised:
        read_position_file(path)
    (fault,) = raised.value.faults
    assert raised.value.source == str(path)
    assert fault.what and fault.given and fault.allowed and fault.remedy
    return fault


def test_missing_file_suggests_one_in_the_same_folder(tmp_path: Path) -> None:
    (tmp_path / "edge.toml").write_text(GOOD, "utf-8")
    fault = unreadable(tmp_path / "egde.toml")
    assert "no such file" in fault.what and '"edge.toml"' in fault.remedy


def test_a_folder_is_no_position(tmp_path: Path) -> None:
    assert "a folder" in unreadable(tmp_path).what


def test_a_file_of_another_encoding_names_the_byte_and_its_line(tmp_path: Path) -> None:
    path = tmp_path / "latin.toml"
    path.write_bytes(b'table = "snooker-12ft"\ntitle = "caf\xe9"\n')
    fault = unreadable(path)
    assert fault.line == 2 and "0xe9" in fault.given and "UTF-8" in fault.remedy


def test_a_large_file_is_refused_without_being_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "film.toml"
    with path.open("wb") as file:
        file.truncate(100_000_000)

    def refuse(*args: object, **kwargs: object) -> None:
        raise AssertionError("the file was opened")

    monkeypatch.setattr("builtins.open", refuse)
    fault = unreadable(path)
    assert "too large" in fault.what and "100 000 000 bytes" in fault.given
    assert "1 MB" in fault.allowed


def test_an_endless_device_is_read_only_up_to_the_limit() -> None:
    if not os.path.exists("/dev/zero"):
        pytest.skip("no such device here")
    assert "too large" in unreadable(Path("/dev/zero")).what


def test_the_limit_itself_is_allowed(tmp_path: Path) -> None:
    path = tmp_path / "just.toml"
    path.write_bytes(GOOD.encode() + b"#" * (SIZE_LIMIT - len(GOOD.encode())))
    assert read_position_file(path).plan.pace == 1.7


def test_a_name_that_no_system_allows() -> None:
    assert "cannot be read" in unreadable(Path("a\0b.toml")).what
