"""Bring a stream up to date: the latest checkpoint, the facts since, one `step` each, verdicts and checkpoint.

A fact that arrives with an older time, and an annulment, drop the checkpoints behind it; the fold then runs
from the last one before. Whatever the way, the state afterwards is the same to the last bit.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from spc.shop import CheckGauged, Fact, Verdict
from spc.station.checkpoint import kept_state, state_format
from spc.station.fold import step
from spc.station.kept import fact_of, merged_checks, new_fact, text_of
from spc.station.state import StreamState
from spc.store import Desk, NewVerdict, Position, Shelf, StoredFact

__all__ = ["Sequenced", "in_sequence", "present_state", "refold"]

_FOLDED = ("plan", "check", "event", "limits", "answer")
_MILESTONE = 50
"""Facts between the checkpoints that a long fold leaves behind."""
_BEFORE_ALL = Position("", -9, 0)


@dataclass(frozen=True, slots=True)
class Sequenced:
    """One fact in its place: a check may stand for several kept facts.

    Attributes
    ----------
    check_id : int
        Id of the first kept fact.
    first, last : Position
        Places of the first and the last kept fact in it.
    """

    fact: Fact
    check_id: int
    first: Position
    last: Position


def refold(desk: Desk, part: str, since: Position | None) -> dict[int, Verdict]:
    """Fold a stream from `since` on and keep what comes of it.

    Parameters
    ----------
    since : Position or None
        Place of the oldest fact that is new or gone; None folds what lies behind the latest checkpoint.

    Returns
    -------
    dict
        Verdict by check id, of every check folded now.
    """
    if since is not None:
        desk.drop_checkpoints_from(part, since)
    kept = kept_state(desk, part)
    if kept.is_stale:
        desk.drop_checkpoints_from(part, _BEFORE_ALL)
    state, made_with = kept.state, state_format(kept.machines)
    verdicts: dict[int, Verdict] = {}
    done, count = kept.position or _BEFORE_ALL, 0
    for each in in_sequence(desk, desk.facts(part, kept.machines, after=kept.position, kinds=_FOLDED)):
        if count >= _MILESTONE and done < each.first:
            desk.save_checkpoint(part, done, text_of(state), made_with)
            count = 0
        state, verdict = step(state, each.fact)
        done, count = max(done, each.last), count + 1
        if verdict is not None:
            verdicts[each.check_id] = replace(verdict, check_id=each.check_id)
    if count:
        desk.save_checkpoint(part, done, text_of(state), made_with)
    _keep_verdicts(desk, verdicts)
    return verdicts


def present_state(shelf: Shelf, part: str) -> StreamState:
    """Return the state of a stream after all facts kept so far, without keeping anything."""
    kept = kept_state(shelf, part)
    state = kept.state
    for each in in_sequence(shelf, shelf.facts(part, kept.machines, after=kept.position, kinds=_FOLDED)):
        state, _ = step(state, each.fact)
    return state


def in_sequence(shelf: Shelf, stored: Sequence[StoredFact]) -> list[Sequenced]:
    """Leave out what was struck out and put the parts of a check together."""
    checks = [each for each in stored if each.kind == "check"]
    struck: dict[tuple[str, str], int] = {}
    by_id = {each.id: each for each in checks}
    for annulment in shelf.annulments_of(list(by_id)):
        check = by_id[annulment.annuls or 0]
        key = (check.time, check.machine)
        struck[key] = max(struck.get(key, 0), annulment.id)
    groups: dict[tuple[str, str], list[StoredFact]] = {}
    places: list[tuple[str, str] | StoredFact] = []
    for each in stored:
        key = (each.time, each.machine)
        if each.kind != "check":
            places.append(each)
        elif each.id > struck.get(key, 0):
            if key not in groups:
                places.append(key)
            groups.setdefault(key, []).append(each)
    return [_sequenced([place] if isinstance(place, StoredFact) else groups[place]) for place in places]


def _sequenced(stored: list[StoredFact]) -> Sequenced:
    facts = [fact_of(each) for each in stored]
    places = sorted(each.position for each in stored)
    first, last = places[0], places[-1]
    if isinstance(facts[0], CheckGauged):
        whole = merged_checks([each for each in facts if isinstance(each, CheckGauged)])
        return Sequenced(whole, stored[0].id, first, last)
    return Sequenced(facts[0], stored[0].id, first, last)


def _keep_verdicts(desk: Desk, verdicts: dict[int, Verdict]) -> None:
    desk.save_verdicts(
        [
            NewVerdict(
                fact_id=check_id,
                part=verdict.part,
                machine=verdict.machine,
                time=new_fact(CheckGauged(verdict.time, verdict.machine, verdict.part, ())).time,
                rank=CheckGauged(verdict.time, verdict.machine, verdict.part, ()).order,
                body=text_of(replace(verdict, check_id=None)),
            )
            for check_id, verdict in verdicts.items()
        ]
    )
