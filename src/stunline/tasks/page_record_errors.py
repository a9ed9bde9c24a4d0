"""What only records of gauging can be refused for; light, since every answer may ask for it."""

from __future__ import annotations

from stunline.errors import Fault, InputError


class ChangedRecordError(InputError):
    """Plays of the record were added or moved elsewhere; their numbers mean others now."""

    def __init__(self, name: str) -> None:
        fault = Fault(
            "the record’s shots were changed elsewhere, and what was typed was not written",
            given=f'"{name}"',
            allowed="the record as it stands in the library",
            remedy="load it again, and type it again",
            key="order",
        )
        super().__init__([fault])
