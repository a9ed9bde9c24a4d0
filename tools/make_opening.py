"""Compute the opening shot of the page; run by hand when the engine or the drawing changes.

python tools/make_opening.py
"""

from __future__ import annotations

from stunline.tasks.page_opening import THEMES, as_text, compute_opening, opening_path


def main() -> None:
    """Write it for each theme."""
    for theme in THEMES:
        path = opening_path(theme)
        path.parent.mkdir(exist_ok=True)
        path.write_text(as_text(compute_opening(theme)), encoding="utf-8")
        print(f"{path}: {path.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
