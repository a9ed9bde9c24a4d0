"""Notebooks show a ``Shot``, a ``Ladder`` and a ``Drawing`` as pictures.

A shot knows nothing of drawings, which stand on a higher floor. So a notebook's shell is told
how to show one when stunline is imported in it; nothing is drawn before it is shown.
"""

from __future__ import annotations

import sys
from typing import Any

_SVG = "image/svg+xml"


def register() -> None:
    """Tell the notebook's shell, where there is one, how to show pictures."""
    interactive = sys.modules.get("IPython")
    shell = interactive.get_ipython() if interactive is not None else None
    if shell is None:
        return
    formatter = shell.display_formatter.formatters[_SVG]
    for module, name, show in _SHOWN:
        formatter.for_type_by_name(module, name, show)


def _drawing(drawing: Any) -> str:
    from stunline.drawing.svg import svg
    from stunline.drawing.theme import SCREEN_LIGHT

    return svg(drawing, SCREEN_LIGHT)


def _shot(shot: Any) -> str:
    from stunline.drawing.plan import plan_of_shot

    return _drawing(plan_of_shot(shot))


def _ladder(ladder: Any) -> str:
    from stunline.drawing.ladder_plan import plan_of_ladder

    return _drawing(plan_of_ladder(ladder))


def _result(result: Any) -> str:
    return _drawing(result.drawing())


# Module and name of each type that is shown, so that none needs importing beforehand.
_SHOWN = (
    ("stunline.drawing.marks", "Drawing", _drawing),
    ("stunline.shot.shot", "Shot", _shot),
    ("stunline.shot.ladder", "Ladder", _ladder),
    ("stunline.tasks.play_shot", "ShotResult", _result),
    ("stunline.tasks.climb_ladder", "LadderResult", _result),
    ("stunline.tasks.explain_shot", "ExplainResult", _result),
    ("stunline.tasks.played_stroke", "PlayedResult", _result),
)
