"""Facts, verdicts and states as the record's text, and back."""

import json
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from spc.shop import (
    AlarmAnswered,
    Annulled,
    CheckGauged,
    EventLogged,
    Fact,
    LimitsSigned,
    PlanTaken,
    Verdict,
)
from spc.shop.plain import from_plain, to_plain
from spc.station.state import StreamState
from spc.store import NewFact, StoredFact, StoredVerdict, time_text

__all__ = ["STATE_FORMAT", "fact_of", "merged_checks", "new_fact", "state_of", "text_of", "verdict_of"]

STATE_FORMAT = "16"
"""Goes up whenever the fold or the state changes what it keeps: older checkpoints are then rebuilt."""

_CLASSES: dict[str, type[Fact]] = {
    "plan": PlanTaken,
    "check": CheckGauged,
    "event": EventLogged,
    "limits": LimitsSigned,
    "answer": AlarmAnswered,
}
_KINDS: dict[type, str] = {kind: name for name, kind in _CLASSES.items()} | {Annulled: "annulled"}


def text_of(record: object) -> str:
    """Write any record as JSON, the same bytes for the same record."""
    return json.dumps(to_plain(record), ensure_ascii=False, separators=(",", ":"))


def new_fact(fact: Fact | Annulled, *, by: str = "", reason: str = "") -> NewFact:
    """Make a fact ready for the record."""
    annulled = isinstance(fact, Annulled)
    return NewFact(
        part=fact.part,
        machine=getattr(fact, "machine", ""),
        kind=_KINDS[type(fact)],
        time=time_text(fact.time),
        rank=9 if isinstance(fact, Annulled) else fact.order,
        body=text_of(fact),
        by_name=by,
        reason=reason,
        source=getattr(fact, "source", ""),
        annuls=fact.check_id if annulled and isinstance(fact, Annulled) else None,
    )


def fact_of(stored: StoredFact) -> Fact:
    """Read a fact back."""
    fact: Fact = from_plain(_CLASSES[stored.kind], json.loads(stored.body))
    return fact


def state_of(body: str) -> StreamState:
    """Read a state back."""
    return from_plain(StreamState, json.loads(body))


def verdict_of(stored: StoredVerdict) -> Verdict:
    """Read a verdict back, with the id of its check."""
    return replace(_verdict(stored.body), check_id=stored.fact_id)


def merged_checks(parts: Sequence[CheckGauged]) -> CheckGauged:
    """Put together what came in at several times for one check: later readings complete the earlier ones."""
    first = parts[0]
    if len(parts) == 1:
        return first
    known = {reading.key for reading in first.readings}
    readings = list(first.readings)
    for part in parts[1:]:
        readings += [reading for reading in part.readings if reading.key not in known]
        known |= {reading.key for reading in part.readings}
    counter = next((each.counter for each in parts if each.counter is not None), None)
    skipped = tuple(each for part in parts for each in part.skipped)
    traces = tuple(dict.fromkeys(each for part in parts for each in part.traces))
    return replace(first, readings=tuple(readings), counter=counter, skipped=skipped, traces=traces)


@lru_cache(maxsize=2048)
def _verdict(body: str) -> Verdict:
    return from_plain(Verdict, json.loads(body))
