"""What can go wrong, as types.

    StunlineError                 everything that the package raises on purpose
    ├── InputError                a file or an argument holds faults; it lists them all
    ├── SeveralInputErrors        the same of several files
    └── UnsolvableShotError       the wish is well formed, but no strike fulfils it

An error carries facts (what was wrong, the value received, what is allowed, what to
try), never only a sentence, so that each front end can show it in its own way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with the input.

    Attributes:
        what: what was wrong, a short sentence without the file's name.
        given: the value received, as the user would recognise it; "" when nothing was given.
        allowed: what would be accepted.
        remedy: what to try.
        key: the dotted key in the file ("strike.pace"), or "" when it concerns the whole.
        line: 1-based line in the file, or None when there is no file or no line.
    """

    what: str
    given: str = ""
    allowed: str = ""
    remedy: str = ""
    key: str = ""
    line: int | None = None

    def sentence(self) -> str:
        """The fault as one line of text, without the file's name and line."""
        text = f"{self.key}: {self.what}" if self.key else self.what
        if self.given:
            text += f"; given {self.given}"
        if self.allowed:
            text += f"; allowed: {self.allowed}"
        if self.remedy:
            text += f"; try: {self.remedy}"
        return text


class StunlineError(Exception):
    """Everything that stunline raises on purpose."""


class InputError(StunlineError):
    """A file or an argument holds faults.

    Attributes:
        faults: every fault found, in the order of the file.
        source: the file's name, or "" when the input did not come from a file.
    """

    def __init__(self, faults: Sequence[Fault], source: str = "") -> None:
        self.faults = tuple(faults)
        self.source = source
        super().__init__("\n".join(self.messages()))

    def messages(self) -> list[str]:
        """One line for each fault: ``file:line: what; given …; allowed: …; try: …``."""
        return [_located(fault, self.source) + fault.sentence() for fault in self.faults]


class SeveralInputErrors(StunlineError):
    """Several files hold faults.

    Attributes:
        errors: one for each file
    """

    def __init__(self, errors: Sequence[InputError]) -> None:
        self.errors = tuple(errors)
        super().__init__("\n".join(str(error) for error in self.errors))


class UnsolvableShotError(StunlineError):
    """No strike within the limits does what was asked.

    Attributes:
        reason: a stable word for programs: "cut-too-thin", "way-blocked", "pocket-closed",
            "too-slow", "no-height", "no-contact", "no-pace".
        fault: the facts in words.
        source: the file that asked for it, or "" when it did not come from a file.
    """

    def __init__(self, reason: str, fault: Fault, source: str = "") -> None:
        self.reason = reason
        self.fault = fault
        self.source = source
        super().__init__(_located(fault, source) + fault.sentence())

    def at(self, source: str, line: int | None) -> UnsolvableShotError:
        """The same refusal, with the file and the line that asked for it."""
        return UnsolvableShotError(self.reason, replace(self.fault, line=line), source)


def _located(fault: Fault, source: str) -> str:
    if source and fault.line is not None:
        return f"{source}:{fault.line}: "
    return f"{source}: " if source else ""
