"""The client's files agree with each other, with the fonts, and with what checks them."""

from __future__ import annotations

import json
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
CLIENT = ROOT / "src" / "stunline" / "web" / "client"
FONTS = ROOT / "src" / "stunline" / "drawing" / "fonts"
LOCK = ROOT / "tools" / "client" / "package-lock.json"


def styles() -> str:
    """All style sheets without their comments."""
    sheets = "\n".join(one.read_text("utf-8") for one in sorted(CLIENT.glob("styles/*.css")))
    return re.sub(r"/\*.*?\*/", "", sheets, flags=re.DOTALL)


def test_the_letters_asked_for_are_the_letters_of_each_font_file() -> None:
    asked = {
        file: re.sub(r"\s", "", letters).split(",")
        for file, letters in re.findall(
            r"/fonts/([\w-]+)\.woff2.*?unicode-range:([^;]+);", styles(), flags=re.DOTALL
        )
    }
    cut = {
        f"{one['file']}-{weight}-{one['name']}": one["letters"].split(",")
        for one in json.loads((FONTS / "ranges.json").read_text("utf-8"))
        for weight in ("regular", "bold")
    }
    shipped = {file: cut[file] for file in cut if (FONTS / f"{file}.woff2").exists()}
    assert asked == shipped


def test_every_style_is_worn_by_something() -> None:
    classes = set(re.findall(r"\.([a-zA-Z][\w-]*)(?=[^{}]*\{)", styles()))
    modules = "\n".join(one.read_text("utf-8") for one in CLIENT.glob("modules/**/*.js"))
    words = set(re.findall(r"[\w-]+", modules))
    assert len(classes) > 50
    assert classes - words == set()


def test_every_style_sheet_is_linked() -> None:
    """By the page, or by the fold of the panel that wears it, as it is opened."""
    page = (CLIENT / "index.html").read_text("utf-8")
    linked = set(re.findall(r"/client/styles/([\w-]+\.css)", page))
    modules = "\n".join(one.read_text("utf-8") for one in CLIENT.glob("modules/**/*.js"))
    later = set(re.findall(r"dress\('([\w-]+\.css)'\)", modules))
    assert linked & later == set()
    linked |= later
    assert linked == {one.name for one in CLIENT.glob("styles/*.css")}


def test_the_packages_that_check_the_page_are_pinned_without_a_registry_s_address() -> None:
    """npm takes them from wherever it is set up to; their hashes hold them to what they were."""
    packages = json.loads(LOCK.read_text("utf-8"))["packages"]
    pinned = {name: one for name, one in packages.items() if name.startswith("node_modules/")}
    assert "node_modules/typescript" in pinned
    for name, one in pinned.items():
        assert "resolved" not in one, name
        assert one["integrity"].startswith("sha512-"), name
