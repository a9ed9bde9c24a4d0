"""What ``-o`` writes: each picture, in each form, in each theme."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest

from cli.command import run
from cli.test_bad_input import refused
from stunline.tasks.pictures import LADDER_PICTURES, SHOT_PICTURES

PAPER_PT = 9.0  # the least letter on paper
CASES = [("shot", one) for one in SHOT_PICTURES] + [("ladder", one) for one in LADDER_PICTURES]


@pytest.mark.parametrize(("command", "picture"), CASES)
def test_every_picture_has_every_form(command: str, picture: str, tmp_path: Path) -> None:
    for ending, start in ((".svg", b"<svg "), (".png", b"\x89PNG"), (".pdf", b"%PDF-")):
        target = tmp_path / f"picture{ending}"
        ran = run(command, "stun-and-hold", "-o", str(target), "--show", picture)
        assert ran.code == 0, ran.err
        assert f"{picture.capitalize()} written to {target}" in ran.out
        assert target.read_bytes().startswith(start)


@pytest.mark.parametrize(("command", "picture"), CASES)
def test_no_letter_on_paper_is_under_9_pt(command: str, picture: str, tmp_path: Path) -> None:
    from paper.pdf_reading import read_pdf

    target = tmp_path / "picture.pdf"
    run(command, "edge-of-the-pack", "-o", str(target), "--show", picture)
    (page,) = read_pdf(target.read_bytes())
    assert page.words
    assert min(word.size for word in page.words) >= PAPER_PT - 0.01


def test_a_pdf_is_in_greys_unless_another_theme_is_asked_for(tmp_path: Path) -> None:
    def coloured(path: Path) -> bool:
        with pikepdf.open(path) as pdf:
            return any(
                len(set(map(float, operands))) > 1
                for operands, operator in pikepdf.parse_content_stream(_deepest(pdf))
                if str(operator) in ("rg", "RG", "sc", "SC", "scn", "SCN") and len(operands) == 3
            )

    grey, light = tmp_path / "grey.pdf", tmp_path / "light.pdf"
    run("shot", "edge-of-the-pack", "-o", str(grey))
    run("shot", "edge-of-the-pack", "-o", str(light), "--theme", "light")
    assert not coloured(grey)
    assert coloured(light)


def _deepest(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """The form that holds the picture's operators: the largest of the file."""
    streams = [one for one in pdf.objects if isinstance(one, pikepdf.Stream)]
    forms = [one for one in streams if one.get("/Subtype") == "/Form"] or [pdf.pages[0].Contents]
    return max(forms, key=lambda one: len(one.read_bytes()))


def test_a_picture_that_there_is_not_is_refused(tmp_path: Path) -> None:
    position = tmp_path / "alone.toml"
    position.write_text(
        'table = "snooker-12ft"\n[balls]\nwhite = [400, 800]\n[strike]\naim = 90\npace = 1.0\n'
    )
    target = tmp_path / "contact.svg"
    (line,) = refused(run("shot", str(position), "-o", str(target), "--show", "contact"))
    assert "there is no contact to draw" in line
    assert not target.exists()
