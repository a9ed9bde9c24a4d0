"""How the documentation is built: Markdown pages, nothing fetched from anywhere."""

from __future__ import annotations

import re
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent / "src" / "stunline" / "__init__.py"

project = "stunline"
author = "the stunline authors"
copyright = "2026, the stunline authors"
release = re.findall(r'__version__ = "(.+)"', PACKAGE.read_text(encoding="utf-8"))[0]
version = release

extensions = ["myst_parser"]
source_suffix = {".md": "markdown"}
exclude_patterns = ["_build"]
language = "en"
nitpicky = True

myst_heading_anchors = 3

html_theme = "alabaster"
html_theme_options = {
    "description": "Cue-ball control, computed",
    "fixed_sidebar": True,
    "show_powered_by": False,
}
html_copy_source = False
html_show_sphinx = False
