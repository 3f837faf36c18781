"""Answers to verdicts: what was found and what was done, the last one given to each check."""

from spc.shop import AlarmAnswered
from spc.shop.causes import cause_words
from spc.station.kept import fact_of
from spc.store import Position, Shelf

__all__ = ["answer_to", "answer_words", "answers_given"]


def answer_to(shelf: Shelf, check_id: int) -> AlarmAnswered | None:
    """Return the answer that stands for the verdict on a check, for the page that shows it; None without one."""
    check = shelf.fact(check_id)
    if check is None:
        return None
    return answers_given(shelf, check.part, Position(check.time, 0, 0)).get(check_id)


def answers_given(shelf: Shelf, part: str, after: Position | None = None) -> dict[int, AlarmAnswered]:
    """Return the last answer to each check of a part, by the id of the check.

    Parameters
    ----------
    after : Position or None
        Only answers beyond it; an answer never stands before its check.
    """
    facts = [fact_of(stored) for stored in shelf.facts(part, after=after, kinds=("answer",))]
    return {fact.check_id: fact for fact in facts if isinstance(fact, AlarmAnswered)}


def answer_words(answer: AlarmAnswered) -> str:
    """Say what was found and what was done.

    Examples
    --------
    >>> from datetime import UTC, datetime
    >>> answer_words(AlarmAnswered(datetime(2026, 3, 2, tzinfo=UTC), "R1", "P-31", 7, "batch", "slide moved"))
    'another bar batch: slide moved'
    """
    return ": ".join(part for part in (cause_words(answer.cause), answer.action) if part)
