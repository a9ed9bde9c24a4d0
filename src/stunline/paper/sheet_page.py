"""One position's sheet: what stands on it, in words and pictures, before it is set."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from stunline.drawing.marks import Drawing
from stunline.drawing.title_block import TitleBlock
from stunline.paper.set_up import SetBall, SetUp, set_up
from stunline.paper.sheet_cautions import cautions
from stunline.paper.sheet_crosses import cross_words
from stunline.paper.sheet_doubt import sign_words
from stunline.paper.sheet_figures import CONTACT_SCALE, Figures, Plan, figures, in_mm
from stunline.paper.sheet_format import Format
from stunline.paper.sheet_lengths import Lengths
from stunline.paper.sheet_subject import Subject
from stunline.paper.sheet_varied import staying_words
from stunline.paper.sheet_why import why
from stunline.paper.sheet_words import (
    RungWords,
    contact_lines,
    counted,
    face_lines,
    lead,
    rung_rows,
    strike_words,
)


@dataclass(frozen=True, slots=True)
class Stamp:
    """What a sheet says of where its numbers are from.

    Attributes:
        title: of the position
        table: and its profile
        doubt: how far the numbers may be trusted
        numbers: the friction in force
        survives: how often the outcome holds when the balls are set a little wrong, or ""
        plays: what that was found from, or ""
        date: computed on, or ""
        engine: version
    """

    title: str
    table: str
    doubt: str
    numbers: str
    survives: str
    plays: str
    date: str
    engine: str


@dataclass(frozen=True, slots=True)
class SheetPage:
    """A sheet.

    Attributes:
        stamp: title, table, doubt, date
        lead: what the position shows, in a line
        figures: its pictures
        face_lines, contact_lines: below those pictures, the first one heavier
        set_up: tape measurements
        strike: in words
        rungs: of the ladder; one without words without a ladder
        note: how often, and what stays
        crosses: what earns one in a box
        vary: what the ladder varies, or ""
        why, watch: sentences
    """

    stamp: Stamp
    lead: str
    figures: Figures
    face_lines: tuple[str, ...]
    contact_lines: tuple[str, ...]
    set_up: SetUp
    strike: str
    rungs: tuple[RungWords, ...]
    note: str
    crosses: str
    vary: str
    why: tuple[str, ...]
    watch: tuple[str, ...]


def sheet_page(
    subject: Subject,
    stamp: Stamp,
    form: Format,
    units: Literal["mm", "in"] = "mm",
) -> SheetPage:
    """The sheet of a shot or a ladder.

    Args:
        subject: as played
        stamp: what it says of where its numbers are from
        form: the paper, and the sizes on it
        units: that the file shows lengths in
    """
    lengths = Lengths(units)
    block = TitleBlock(stamp.title, stamp.table, stamp.doubt, stamp.date)
    return SheetPage(
        stamp=stamp,
        lead=lead(subject),
        figures=figures(subject, block, replace(form, in_inches=units == "in")),
        face_lines=face_lines(subject, lengths),
        contact_lines=contact_lines(subject),
        set_up=set_up(subject.shot, lengths),
        strike=strike_words(subject, lengths),
        rungs=rung_rows(subject, lengths),
        note=_note(staying_words(subject), len(subject.shots)),
        crosses=f"{cross_words(subject, lengths)} {sign_words(subject, lengths)}".rstrip(),
        vary=subject.ladder.vary if subject.ladder is not None else "",
        why=why(subject, lengths),
        watch=cautions(subject),
    )


def pictures(page: SheetPage, number: int) -> dict[str, Drawing]:
    """Its pictures by the names that ``values`` gives them."""
    found = {f"{number}-face": page.figures.face}
    if page.figures.contact is not None:
        found[f"{number}-contact"] = page.figures.contact
    if page.figures.strip is not None:
        found[f"{number}-strip"] = page.figures.strip
    for which, plan in enumerate(page.figures.plans):
        found[f"{number}-plan-{which}"] = plan.drawing
    return found


def values(page: SheetPage, number: int) -> dict[str, object]:
    """What the template is filled with. number: of the sheet, from 1."""
    shown = page.figures
    stamp = page.stamp
    return {
        "title": stamp.title,
        "table": stamp.table,
        "lead": page.lead,
        "plans": [_plan(plan, f"{number}-plan-{at}") for at, plan in enumerate(shown.plans)],
        "face": {**_picture(shown.face, f"{number}-face"), "lines": page.face_lines},
        "contact": _contact(page, number),
        "strip": shown.strip and _picture(shown.strip, f"{number}-strip"),
        "unit": "in" if any(ball.across.in_mm for ball in page.set_up.balls) else "mm",
        "balls": [_ball(ball) for ball in page.set_up.balls],
        "racks": [[rack.balls, rack.words] for rack in page.set_up.racks],
        "survives": stamp.survives,
        "plays": stamp.plays,
        "strike": page.strike,
        "note": page.note,
        "crosses": page.crosses,
        "rungs": [[rung.value, rung.second, rung.outcome, rung.place] for rung in page.rungs],
        "ladder": bool(page.vary),
        "why": " ".join(page.why),
        "watch": " ".join(page.watch),
        "foot": _foot(stamp),
    }


def _note(stays: str, rungs: int) -> str:
    """Beside "Play it": how often, and what the pupil keeps."""
    if rungs == 1:
        return "ten goes"
    return f"ten goes at each of the {counted(rungs)} rows" + (f"; {stays}" if stays else "")


def _plan(plan: Plan, name: str) -> dict[str, object]:
    return {
        **_picture(plan.drawing, name),
        "layout": plan.layout,
        "n": plan.denominator,
        "scale": f"1 : {plan.denominator:g}",
    }


def _contact(page: SheetPage, number: int) -> dict[str, object] | None:
    if page.figures.contact is None:
        return None
    drawn = _picture(page.figures.contact, f"{number}-contact")
    return {**drawn, "lines": page.contact_lines, "scale": f"1 : {CONTACT_SCALE:g}"}


def _picture(drawing: Drawing, name: str) -> dict[str, object]:
    width, height = in_mm(drawing)
    alt = f"{drawing.title}. {drawing.description}"
    return {"name": name, "width": width, "height": height, "alt": alt}


def _ball(ball: SetBall) -> dict[str, object]:
    return {
        "ball": ball.ball,
        "across": ball.across.words(),
        "across_mm": ball.across.in_mm,
        "up": ball.up.words(),
        "up_mm": ball.up.in_mm,
        "only_mm": [ball.across.millimetres(), ball.up.millimetres()],
        "check": ball.check,
    }


def _foot(stamp: Stamp) -> dict[str, str]:
    parts = [f"computed {stamp.date}" if stamp.date else "", f"stunline {stamp.engine}"]
    return {
        "table": f"{stamp.table}: {stamp.numbers}; {stamp.doubt}",
        "made": " · ".join(filter(None, parts)),
    }
