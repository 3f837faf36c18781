"""The ledger: each fact carries a seal over itself and the seal before it, so that a silent change shows."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, select

from spc.store.record import Store
from spc.store.seal import FIRST_LINK, link_of
from spc.store.tables import facts, verdicts

__all__ = ["BrokenLink", "LedgerReport", "verify"]

BATCH = 2000


@dataclass(frozen=True, slots=True)
class BrokenLink:
    """One place where the record is not what was written.

    Attributes
    ----------
    fact_id : int
    says : str
        What is wrong there, in one sentence.
    """

    fact_id: int
    says: str


@dataclass(frozen=True, slots=True)
class LedgerReport:
    """What checking the record found.

    Attributes
    ----------
    facts : int
        Facts read.
    broken : tuple of BrokenLink
        The first break of the chain, and verdicts whose check is gone; empty where all is well.
    last_link : str
        Seal of the last fact. Whoever notes it elsewhere can prove later that nothing before it changed.
    """

    facts: int
    broken: tuple[BrokenLink, ...]
    last_link: str

    @property
    def intact(self) -> bool:
        """Whether every fact is as it was written."""
        return not self.broken


def verify(store: Store) -> LedgerReport:
    """Recompute every seal, for whoever must prove that the record was not touched.

    Notes
    -----
    The chain shows a changed, inserted or removed fact. Facts cut off at the end show where a verdict
    still speaks of them, or against a `last_link` noted elsewhere.
    """
    with store.connection() as connection:
        link, expected_id = FIRST_LINK, 0
        broken: list[BrokenLink] = []
        for *fields, written in _all_facts(connection):
            expected_id += 1
            if not broken:
                broken = _compare(expected_id, link_of(link, fields), fields, written)
            link = written
        broken += _orphans(connection)
    return LedgerReport(expected_id, tuple(broken), link)


def _compare(expected_id: int, link: str, fields: list[Any], written: str) -> list[BrokenLink]:
    fact_id: int = fields[0]
    if fact_id != expected_id:
        return [BrokenLink(expected_id, f"fact {expected_id} is gone; the next one is {fact_id}")]
    if link != written:
        says = (
            f"fact {fact_id} ({fields[3]} of {fields[1] or fields[2]}, {fields[4]}) is not as it was written"
        )
        return [BrokenLink(fact_id, says)]
    return []


def _orphans(connection: Connection) -> list[BrokenLink]:
    gone = select(verdicts.c.fact_id).where(verdicts.c.fact_id.not_in(select(facts.c.id))).distinct()
    ids = connection.execute(gone.order_by(verdicts.c.fact_id)).scalars()
    return [BrokenLink(each, f"a verdict was shown for fact {each}, which is gone") for each in ids]


def _all_facts(connection: Connection) -> Iterator[list[Any]]:
    """Yield the rows in the order they came in, a batch at a time."""
    last = 0
    while rows := connection.execute(
        select(facts).where(facts.c.id > last).order_by(facts.c.id).limit(BATCH)
    ).fetchall():
        yield from (list(row) for row in rows)
        last = rows[-1][0]
