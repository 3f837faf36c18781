"""Every refusal a person can meet: what is wrong, what came, from where, what is allowed, what to do."""

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["Refusal", "Refused", "StationError"]


class StationError(Exception):
    """Anything this project says no to; its text is one readable paragraph for a person."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """One thing that could not be taken, explained to the person who brought it.

    Attributes
    ----------
    reason : str
        What is wrong, in one sentence.
    value : str
        What came, exactly as it was typed or read.
    file : str
        Where it came from: a file name, a gauge and port, a page.
    row : int or None
        Line of the file, counted from 1 with the header as line 1; None where there are no lines.
    column : str
        The column, plan key or field.
    allowed : str
        What would have been taken.
    do : str
        What to do now; may be empty where `allowed` says it all.
    """

    reason: str
    value: str = ""
    file: str = ""
    row: int | None = None
    column: str = ""
    allowed: str = ""
    do: str = ""

    def sentence(self) -> str:
        """Say the refusal as one line: where, what, what is allowed, what to do."""
        place = ", ".join(
            piece
            for piece in (
                self.file,
                f"row {self.row}" if self.row is not None else "",
                self.column,
            )
            if piece
        )
        text = f"{place}: {self.reason}" if place else self.reason
        if self.value and self.value not in self.reason:
            text += f" (got {self.value!r})"
        text = text.rstrip(".") + "."
        if self.allowed:
            text += f" Allowed: {self.allowed.rstrip('.')}."
        if self.do:
            text += f" {self.do.rstrip('.')}."
        return text


class Refused(StationError):
    """One or more refusals, collected and raised together, never one at a time.

    Parameters
    ----------
    refusals : iterable of Refusal
        At least one.

    Examples
    --------
    >>> raise Refused([Refusal("the lower limit is above the upper", "31.3", "plan.toml", 14, "lower")])
    Traceback (most recent call last):
    ...
    spc.errors.Refused: plan.toml, row 14, lower: the lower limit is above the upper (got '31.3').
    """

    def __init__(self, refusals: Iterable[Refusal]) -> None:
        self.refusals = tuple(refusals)
        super().__init__(" ".join(refusal.sentence() for refusal in self.refusals))

    @classmethod
    def one(cls, reason: str, **where: object) -> "Refused":
        """Build the exception from a single refusal; keywords are the fields of `Refusal`."""
        return cls([Refusal(reason, **where)])  # type: ignore[arg-type]  # the fields are checked by Refusal
