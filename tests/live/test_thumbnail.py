"""The small picture of a position in the library's list can be made out in both themes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from live.live_documents import shipped
from stunline.tasks.page_thumbnail import HEIGHT, thumbnail

SHOWN = 72.0  # its height in the list [px]
# Smaller ones can hardly be told from specks. [P]
LEAST_RADIUS = 1.2
# Of graphics with what they stand on: Web Content Accessibility Guidelines 2.1, 1.4.11. [M]
LEAST_CONTRAST = 3.0


def luminance(colour: str) -> float:
    """Relative luminance of sRGB: the guidelines' own definition. [M]"""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    r, g, b = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_balls_and_cushions_can_be_made_out(theme: str) -> None:
    document = shipped("edge-of-the-pack")
    picture = thumbnail(document, Path(), theme)
    ground = re.search(r'id="thumbnail-ground"[^>]* height="([\d.]+)" fill="(#\w{6})"', picture)
    assert ground is not None
    pixel = float(ground[1]) / SHOWN  # of the list, in the picture's own unit
    balls = re.findall(r'<circle id="thumbnail-ball-[^>]*>', picture)
    assert len(balls) == 17  # [X] white, black and fifteen reds
    for ball in balls:
        radius = re.search(r' r="([\d.]+)"', ball)
        assert radius is not None and float(radius[1]) / pixel >= LEAST_RADIUS
    for kind in re.findall(r'class="(?:nose|ball-\w+)"[^>]*>', picture):
        line = re.search(r'stroke="(#\w{6})" stroke-width="([\d.]+)"', kind)
        assert line is not None
        assert contrast(line[1], ground[2]) >= LEAST_CONTRAST
        assert float(line[2]) / pixel >= 0.5
    assert HEIGHT >= SHOWN


def test_the_white_lies_on_top() -> None:
    picture = thumbnail(shipped("edge-of-the-pack"), Path(), "dark")
    order = re.findall(r'id="thumbnail-ball-(\w+)"', picture)
    assert order[-1] == "white"
