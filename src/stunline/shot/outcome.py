"""What a shot comes to, in the few facts that make two shots the same or different."""

from __future__ import annotations

from dataclasses import dataclass

from stunline.equipment.contact_distances import ball_contact_distance
from stunline.equipment.model import Point
from stunline.shot import plane
from stunline.shot.contact import contact_at
from stunline.shot.position import Position, PotAim, Side, StrikePlan
from stunline.shot.shot import MEETINGS, Event, EventKind, Shot
from stunline.shot.words import ball_words, with_article


@dataclass(frozen=True, slots=True)
class Outcome:
    """Equal outcomes are the same band of the pace strip.

    Attributes:
        object_ball: the ball met first, or "" when none was met
        pot: the ball and pocket asked for, or None
        pot_made: whether it went there; None when no pot was asked for
        meets: the first ball or cushion that the white met after contact, or ""
        on: the side of that ball, seen along the white's way; None for a cushion
        in_off: the pocket that the white fell into, or ""
        cushions: met by a white that stands alone on the table; None with other balls there
        cue_ball: name of the ball that was struck, which is the white in what stands above
    """

    object_ball: str
    pot: PotAim | None
    pot_made: bool | None
    meets: str
    on: Side | None
    in_off: str
    cushions: int | None = None
    cue_ball: str = "white"

    def words(self) -> str:
        """Short: "red 7", "left cushion", "rests in the open", "in-off top right"."""
        if not self.object_ball:
            text = self._without_a_ball()
        elif self.meets:
            text = ball_words(self.meets)
        else:
            text = "meets nothing more"
        if self.in_off:
            text += f", in-off {self.in_off}"
        if self.pot_made is False:
            text += ", pot missed"
        return text

    def sentence(self) -> str:
        """Longer: "the white meets red 7 on its left side"."""
        white = with_article(self.cue_ball)
        if not self.object_ball:
            misses = self.cushions is None
            text = f"{white} " + ("" if misses else "meets ") + self._without_a_ball()
        elif not self.meets:
            text = f"{white} meets nothing more"
        else:
            text = f"{white} meets {with_article(self.meets)}"
            text += f" on its {self.on} side" if self.on else ""
        if self.in_off:
            text += f" and goes in-off, {self.in_off}"
        if self.pot is not None and self.pot_made is False:
            text += f"; {with_article(self.pot.ball)} misses the {self.pot.pocket} pocket"
        return text

    def _without_a_ball(self) -> str:
        if self.cushions is None:
            return "misses every ball"
        return count_of_cushions(self.cushions)


def count_of_cushions(count: int) -> str:
    """ "no cushion", "1 cushion", "2 cushions"."""
    return "no cushion" if count == 0 else f"{count} cushion{'s' if count > 1 else ''}"


def outcome(shot: Shot, plan: StrikePlan | None = None) -> Outcome:
    """What the shot comes to; with a plan that asks for a pot, whether it was made."""
    pot = plan.aim if plan is not None and isinstance(plan.aim, PotAim) else None
    white = shot.position.names[0]
    object_ball, meets, on = "", "", None
    met, cushions = False, 0
    for event in shot.events:
        if white not in event.balls:
            continue
        if event.kind in MEETINGS:
            if not met:
                met, object_ball = True, contact_at(shot, event, white).ball
            elif not meets:
                contact = contact_at(shot, event, white)
                meets, on = contact.ball, contact.on
        elif met and not meets and event.kind in (EventKind.CUSHION, EventKind.JAW):
            meets = surface_words(event)
        cushions += event.kind is EventKind.CUSHION
    return Outcome(
        object_ball=object_ball,
        pot=pot,
        pot_made=shot.potted(pot.ball) == pot.pocket if pot else None,
        meets=meets,
        on=on,
        in_off=shot.potted(white) or "",
        cushions=cushions if len(shot.position.balls) == 1 else None,
        cue_ball=white,
    )


def surface_words(event: Event) -> str:
    """ "left cushion", "jaw of the top right pocket"."""
    if event.at_jaw:
        return f"jaw of the {event.surface} pocket"
    return f"{event.surface} cushion"


def balls_in_the_way(
    position: Position, start: Point, end: Point, radius: float, apart_from: tuple[str, ...]
) -> list[str]:
    """Names of the balls that a ball of that radius would touch between two places."""
    found = []
    for name, place in position.balls.items():
        reach = ball_contact_distance(radius, position.radius(name))
        if name not in apart_from and plane.distance_to_stretch(place, start, end) < reach:
            found.append(name)
    return found
