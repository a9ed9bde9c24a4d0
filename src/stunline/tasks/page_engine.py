"""Get the engine ready behind a page that is already there."""

from __future__ import annotations


def is_compiled() -> bool:
    """Whether this machine has compiled the engine already."""
    from stunline.shot import compiled

    return compiled.is_compiled()


def compile_engine() -> None:
    """Compile it, for this process and, where the cache folder can be written, for all others."""
    from stunline.shot.warm_up import compile_all

    compile_all()


def load_engine() -> None:
    """Load everything that the first play needs, by playing the opening shot once."""
    from stunline.tasks.live_play import live_play
    from stunline.tasks.page_opening import THEMES, opening_request

    live_play(opening_request(THEMES[0]))
