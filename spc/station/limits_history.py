"""The history of limits: every set somebody stood for, from when to when, and what was left out of it."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import TypeGuard

from spc.intake import read_plan
from spc.shop import Characteristic, CheckGauged, ControlLimits, Fact, LimitsSigned, Plan, PlanTaken
from spc.station.first_phase_points import one_level
from spc.station.kept import fact_of
from spc.station.limits_now import lower_limit
from spc.station.take_plan import BEFORE_ALL
from spc.statistics import limits_from_sigma
from spc.store import Shelf

__all__ = ["ExcludedCheck", "SignedLimits", "limits_history"]


@dataclass(frozen=True, slots=True)
class ExcludedCheck:
    """A check of the first phase that was left out; `time` is None where the record has it no more."""

    check_id: int
    time: datetime | None
    reason: str


@dataclass(frozen=True, slots=True)
class SignedLimits:
    """One set of limits that somebody stood for.

    Attributes
    ----------
    signed_from : datetime or None
        None where the plan brought them from the beginning.
    until : datetime or None
        When other limits, or a plan with another meaning of the size, took over; None while they stand.
    lower, upper, spread_upper : float or None
        For the mean and the range of `n` pieces, in the plan's unit.
    subgroups : int
        Checks behind them; 0 where a person gave them in the plan.
    by, reason : str
    excluded : tuple of ExcludedCheck
    period_from, period_to : datetime or None
        First and last check of the first phase behind them, where one was chosen.
    is_from_plan : bool
        Whether the plan itself carried them.
    """

    signed_from: datetime | None
    until: datetime | None
    centre: float
    sigma_within: float
    lower: float
    upper: float
    spread_upper: float | None
    n: int
    subgroups: int
    by: str
    reason: str
    excluded: tuple[ExcludedCheck, ...] = ()
    period_from: datetime | None = None
    period_to: datetime | None = None
    is_from_plan: bool = False


def limits_history(shelf: Shelf, part: str, machine: str, characteristic: str) -> tuple[SignedLimits, ...]:
    """Return every signed set of limits of a characteristic on a machine, oldest first.

    Notes
    -----
    It follows what the fold does: limits signed at the station stand before those of a plan, and a plan that
    gives the size another kind, unit or aim ends what was signed before it.
    """
    found: list[SignedLimits] = []
    known: Characteristic | None = None
    for stored in shelf.facts(part, kinds=("plan", "limits")):
        fact = fact_of(stored)
        if isinstance(fact, PlanTaken):
            now = _named(read_plan(fact.text), characteristic)
            if known is not None and now is not None and _meaning(known) != _meaning(now):
                found = _ended(found, fact.time)
            known = now or known
            if now is not None and now.signed is not None and now.signed.standing == "signed":
                found = _from_plan(found, now, now.signed, fact.time)
        elif known is not None and _is_of(fact, machine, characteristic):
            found = [*_ended(found, fact.time), _from_fact(shelf, known, fact)]
    return tuple(found)


def _is_of(fact: Fact, machine: str, characteristic: str) -> TypeGuard[LimitsSigned]:
    return isinstance(fact, LimitsSigned) and (fact.machine, fact.characteristic) == (machine, characteristic)


def _named(plan: Plan, name: str) -> Characteristic | None:
    return next((each for each in plan.gauged if each.name == name), None)


def _meaning(characteristic: Characteristic) -> tuple[object, ...]:
    return (characteristic.kind, characteristic.unit, characteristic.aim)


def _ended(found: list[SignedLimits], when: datetime) -> list[SignedLimits]:
    if not found or found[-1].until is not None:
        return found
    return [*found[:-1], replace(found[-1], until=when)]


def _from_plan(
    found: list[SignedLimits], characteristic: Characteristic, stands: ControlLimits, when: datetime
) -> list[SignedLimits]:
    """A plan's own limits judge only where nobody has signed others at the station since."""
    last = found[-1] if found and found[-1].until is None else None
    if last is not None and (not last.is_from_plan or _same(last, stands)):
        return found
    own = _set(characteristic, stands.centre, stands.sigma_within, stands.n)
    begun = None if when == BEFORE_ALL else when
    return [*_ended(found, when), replace(own, signed_from=begun, by=stands.signed_by, is_from_plan=True)]


def _same(last: SignedLimits, stands: ControlLimits) -> bool:
    return (last.centre, last.sigma_within, last.n) == (stands.centre, stands.sigma_within, stands.n)


def _from_fact(shelf: Shelf, characteristic: Characteristic, fact: LimitsSigned) -> SignedLimits:
    return replace(
        _set(characteristic, fact.centre, fact.sigma_within, fact.n),
        signed_from=fact.time,
        subgroups=fact.subgroups,
        by=fact.by,
        reason=fact.reason,
        excluded=tuple(
            ExcludedCheck(check_id, _time(shelf, check_id), why) for check_id, why in fact.excluded
        ),
        period_from=fact.period_from,
        period_to=fact.period_to,
    )


def _time(shelf: Shelf, check_id: int) -> datetime | None:
    stored = shelf.fact(check_id)
    fact = None if stored is None else fact_of(stored)
    return fact.time if isinstance(fact, CheckGauged) else None


def _set(characteristic: Characteristic, centre: float, sigma: float, n: int) -> SignedLimits:
    limits = limits_from_sigma(centre, sigma, n, "xbar_r" if n > 1 else "individuals")
    spread = one_level(limits.spread_upper) if n > 1 else None
    lower = lower_limit(characteristic, one_level(limits.lower))
    return SignedLimits(None, None, centre, sigma, lower, one_level(limits.upper), spread, n, 0, "", "")
