"""The picture of an explanation: the white's way with, and without, each of its causes."""

from __future__ import annotations

from stunline.drawing.explain_plan import ExplainPicture, WithoutPicture, plan_of_explanation
from stunline.drawing.marks import Drawing
from stunline.planning.causes import GROUP_OF, Cause, Group
from stunline.shot.sentences import capital
from stunline.tasks.explain_shot import ExplainResult
from stunline.tasks.pictures import medium_of
from stunline.tasks.titles import title_block

LABELS = {
    Cause.HEIGHT: "struck at centre height",
    Cause.SIDE: "no side",
    Cause.CLOTH: "no cloth on the way",
    Cause.SQUIRT: "no squirt",
    Cause.BALL_FRICTION: "smooth balls",
    Cause.RESTITUTION: "no loss in the impact",
}
AS_STUN = "arriving as stun"


def explain_picture(result: ExplainResult, date: str = "", on_paper: bool = False) -> Drawing:
    """The plan.

    Args:
        date: for its title block
        on_paper: whether it is to be printed: then no letter is under 9 pt
    """
    told = result.explanation
    without = [WithoutPicture(LABELS[cause], told.without(cause)) for cause in told.causes]
    spin = [cause for cause in told.causes if GROUP_OF[cause] is Group.SPIN]
    if len(spin) > 1:
        without.insert(0, WithoutPicture(AS_STUN, told.without(*spin)))
    picture = ExplainPicture(
        told.shot,
        without,
        title_block(told.shot.position, date),
        capital(f"{result.played.outcome.sentence()}."),
    )
    medium = medium_of(on_paper, result.played.file.units)
    return plan_of_explanation(picture, medium)
