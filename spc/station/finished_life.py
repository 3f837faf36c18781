"""What is kept of a die set that came off, for the sets after it."""

from dataclasses import replace

from spc.shop import EventLogged
from spc.station.priors import prior_of
from spc.station.state import DieSetState, StreamState
from spc.wear import FinishedSet, GainFact, PastWay, Way, gain_fact, past_way
from spc.wear.belief import WEAR

__all__ = ["remember_life"]

_LIFE_ENDS = ("worn", "chipped")
_MOST_SETS = 40
"""Newest sets that are remembered: the state must not grow with the age of the record, but for their ages."""
_FEWEST_CHECKS = 8
"""Checks below which a set says nothing of how such dies grow."""


def remember_life(state: StreamState, die_set: DieSetState, age: int, event: EventLogged) -> StreamState:
    """Keep what an ended or cut-short set taught; a set that comes back later is then counted once more."""
    if age <= 0:
        return state
    told = {name: each for name, each in die_set.beliefs.items() if each.checks >= _FEWEST_CHECKS}
    life = FinishedSet(
        die_set=die_set.id,
        age_pieces=age,
        ended=event.value in _LIFE_ENDS,
        reason=event.value,
        machine=event.machine,
        rates=tuple(
            (name, 1000.0 * each.mean[WEAR] / each.age_pieces)
            for name, each in told.items()
            if each.age_pieces > 0
        ),
        gains=_gains(state, die_set, event.machine),
        moves=tuple((name, each.moves) for name, each in die_set.memories.items()),
        ways=_ways(die_set, event.value),
    )
    others = tuple(each for each in state.finished if each.die_set != die_set.id or each.ended)
    kept = (*others, life)
    older, newest = kept[:-_MOST_SETS], kept[-_MOST_SETS:]
    return replace(state, finished=newest, die_sets=_laid_away(state, older))


def _laid_away(state: StreamState, older: tuple[FinishedSet, ...]) -> dict[str, DieSetState]:
    """Of a set that came off for good forty sets ago only age and travel stay; not where it has gone on since."""
    mounted = {each.die_set for each in state.machines.values()}
    die_sets = dict(state.die_sets)
    for life in older:
        die_set = die_sets.get(life.die_set)
        if die_set is None or life.die_set in mounted or die_set.age_pieces != life.age_pieces:
            continue
        die_sets[die_set.id] = DieSetState(
            die_set.id, die_set.age_pieces, die_set.reference_mm, carried_mm=die_set.carried_mm
        )
    return die_sets


def _gains(state: StreamState, die_set: DieSetState, machine_id: str) -> tuple[GainFact, ...]:
    found = []
    for name, belief in die_set.beliefs.items():
        prior = prior_of(state, name, machine_id)
        fact = None if prior is None else gain_fact(belief, prior, name, machine_id)
        if fact is not None:
            found.append(fact)
    return tuple(found)


def _ways(die_set: DieSetState, reason: str) -> tuple[tuple[str, PastWay], ...]:
    """Close every way; where the set came off as worn, the one that had come farthest was the end."""
    ways = {name: each.way for name, each in die_set.memories.items() if each.way is not None}
    if not ways:
        return ()
    first = max(ways, key=lambda name: ways[name].share) if reason == "worn" else ""
    return tuple(
        (
            name,
            past_way(
                way,
                die_set.memories[name].stages,
                _ended_at(way, die_set.beliefs[name].checks) if name == first else None,
            ),
        )
        for name, way in ways.items()
    )


def _ended_at(way: Way, checks: int) -> float:
    """Age at the end that the last check found: it came since the check before, half a usual interval ago."""
    return way.age_pieces * (1.0 - 0.5 / max(checks, 1))
