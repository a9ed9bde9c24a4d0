"""Ways to a goal on the screen's plan: one layer, so that they come and go by themselves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import meeting_ring, rest_ring
from stunline.drawing.labels import LabelWish, Rank
from stunline.drawing.marks import Layer, Mark, Role, Size
from stunline.drawing.rungs import back_along

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

PREFIX = "way-"  # of every mark; the letter follows


@dataclass(frozen=True, slots=True)
class LetteredWay:
    """A strike's shot, and the letter at its end."""

    letter: str
    shot: Shot


def way_marks(ways: Sequence[LetteredWay]) -> Iterator[Mark]:
    """The white's way of each from its contact on, and where it rests or meets its next ball."""
    for way in ways:
        shot, name = way.shot, f"{PREFIX}{way.letter}"
        since = next((contact.time for contact in story.contacts(shot)), 0.0)
        span = (since, story.told_until(shot))
        found = list(path_marks.thin_way(shot, story.cue_ball(shot), span, Role.LATER, name))
        meeting = story.next_meeting(shot)
        ring = (
            rest_ring(shot, story.cue_ball(shot), f"{name}-rest")
            if meeting is None
            else meeting_ring(shot, meeting, f"{name}-meeting")
        )
        yield from (replace(mark, layer=Layer.WAYS) for mark in found)
        if ring is not None:
            yield replace(ring, layer=Layer.WAYS)


def way_wishes(ways: Sequence[LetteredWay]) -> Iterator[LabelWish]:
    """A ringed letter at the end of each."""
    for way in ways:
        shot = way.shot
        white = story.cue_ball(shot)
        end = story.place(shot, white, story.told_until(shot))
        meeting = story.next_meeting(shot)
        yield LabelWish(
            f"{PREFIX}{way.letter}-label",
            "",
            end,
            story.radius(shot, white),
            path_marks.direction(meeting.ball_at, end) if meeting else 0.0,
            Size.SMALL,
            along=back_along(shot),
            rank=Rank.OUTCOME,
            ringed=way.letter,
        )


def in_ways_layer(mark: Mark) -> Mark:
    """The letters go with their ways, whatever layer labels have."""
    return replace(mark, layer=Layer.WAYS) if mark.id.startswith(PREFIX) else mark
