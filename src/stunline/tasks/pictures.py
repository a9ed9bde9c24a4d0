"""The pictures of a shot, of a ladder and of an opened pack that can be asked for by name."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stunline.errors import Fault, InputError
from stunline.tasks.band_words import whose_words
from stunline.tasks.lines import fine_length_words
from stunline.tasks.titles import title_block

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing
    from stunline.drawing.page import Medium
    from stunline.tasks.climb_ladder import LadderResult
    from stunline.tasks.open_pack import PackResult
    from stunline.tasks.play_shot import ShotResult

SHOT_PICTURES = ("plan", "contact", "face")
LADDER_PICTURES = ("plan", "strip", "face")


def shot_picture(
    result: ShotResult, show: str = "plan", date: str = "", on_paper: bool = False
) -> Drawing:
    """One picture of a shot.

    Args:
        show: one of ``SHOT_PICTURES``
        date: for the plan's title block
        on_paper: whether it is to be printed: then no letter is under 9 pt

    Raises:
        InputError: the contact is asked for, and the white meets no ball.
    """
    medium = medium_of(on_paper, result.file.units)
    if show == "contact":
        return _contact(result, medium)
    if show == "face":
        from stunline.drawing.face import face_of

        shot, file = result.shot, result.file
        return face_of(
            shot.strike, shot.position.table, medium, lengths=lambda mm: fine_length_words(file, mm)
        )
    from stunline.drawing.doubt_marks import doubt_of_shot
    from stunline.drawing.plan import plan_of_shot

    band = result.band
    doubt = None if band is None else doubt_of_shot(band, whose_words(band.doubt))
    block = title_block(result.file.position, date)
    return plan_of_shot(result.shot, block, medium=medium, doubt=doubt, goal=result.file.goal)


def ladder_picture(
    result: LadderResult, show: str = "plan", date: str = "", on_paper: bool = False
) -> Drawing:
    """One picture of a ladder; ``show`` is one of ``LADDER_PICTURES``, the others as for a shot.

    Raises:
        InputError: the strip is asked for, and what varies has no ruler.
    """
    medium = medium_of(on_paper, result.file.units)
    if show == "strip":
        return _strip(result, medium)
    if show == "face":
        return _face_of_ladder(result, medium)
    from stunline.drawing.doubt_marks import doubt_of_ladder
    from stunline.drawing.ladder_plan import plan_of_ladder

    block, band = title_block(result.file.position, date), result.band
    doubt = None if band is None else doubt_of_ladder(band.rungs, whose_words(band.rungs[0].doubt))
    return plan_of_ladder(result.ladder, block, result.second_ruler(), medium, doubt=doubt)


def pack_picture(result: PackResult, date: str = "", on_paper: bool = False) -> Drawing:
    """Where the white ended, at the first pace that was played.

    Raises:
        InputError: none was.
    """
    from stunline.drawing.pack_plan import PackPicture, plan_of_pack
    from stunline.shot.play import play
    from stunline.units import millimetres

    packs = next((one.packs for one in result.paces if one.packs is not None), None)
    if packs is None:
        raise nothing_to_show("plan", "nothing was played", ("plan",))
    position = result.file.position
    block = title_block(position, date)
    gaps = fine_length_words(result.file, millimetres(result.gaps), 1)
    racks = f"gaps up to {gaps}" if result.gaps else "touching"
    plays = f"{packs.plays:,} plays at {packs.strike.pace:.2f} m/s, {racks}"
    ends = [(1000.0 * x, 1000.0 * y) for x, y in packs.rests.tolist() if x == x]
    picture = PackPicture(
        play(position, packs.strike),
        ends,
        replace(block, table=f"{block.table}; {plays}"),
        frozenset(ball for ball in packs.by_point() if ball),
    )
    return plan_of_pack(picture, medium_of(on_paper, result.file.units))


def medium_of(on_paper: bool, units: str = "mm") -> Medium:
    """A screen, or paper, where no letter is under 9 pt; ``units``: the file's, "mm" or "in"."""
    from stunline.drawing.marks import Size
    from stunline.drawing.page import SCREEN

    smallest = Size.SMALL if on_paper else SCREEN.smallest
    return replace(SCREEN, smallest=smallest, in_inches=units == "in")


def _contact(result: ShotResult, medium: Medium) -> Drawing:
    from stunline.drawing.contact_figure import contact_of_shot

    drawing = contact_of_shot(result.shot, medium)
    if drawing is None:
        raise nothing_to_show("contact", "the cue ball meets no ball", SHOT_PICTURES)
    return drawing


def _strip(result: LadderResult, medium: Medium) -> Drawing:
    from stunline.drawing.ladder_plan import strip_of_ladder
    from stunline.drawing.strip import drawing_of_strip

    strip = strip_of_ladder(result.ladder, result.second_ruler())
    if strip is None:
        reason = f"a ladder over {result.ladder.vary} has no ruler"
        raise nothing_to_show("strip", reason, LADDER_PICTURES)
    return drawing_of_strip(strip, medium=medium)


def _face_of_ladder(result: LadderResult, medium: Medium) -> Drawing:
    from stunline.drawing.face import face_of_rungs

    rungs = [(str(n), rung.shot.strike) for n, rung in enumerate(result.ladder.rungs, 1)]
    table, file = result.file.position.table, result.file
    return face_of_rungs(rungs, table, medium, lengths=lambda mm: fine_length_words(file, mm))


def nothing_to_show(show: str, reason: str, allowed: tuple[str, ...]) -> InputError:
    """The refusal of a picture that can't be drawn."""
    fault = Fault(
        f"there is no {show} to draw: {reason}",
        given=f"--show {show}",
        allowed=", ".join(allowed),
        remedy=f"--show {allowed[0]}",
        key="--show",
    )
    return InputError([fault])
