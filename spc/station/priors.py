"""The model's priors of a part's characteristics: from the plan, the machine and the die sets that ended."""

from collections.abc import Callable, Mapping
from typing import TypeVar

from spc.shop import Characteristic, Costs, GainGuess, Machine, Plan
from spc.station.state import StreamState
from spc.wear import (
    PastWay,
    PastWays,
    PlannedAge,
    SlideRole,
    SuddenEnds,
    WearPrior,
    on_machine,
    past_ways,
    planned_age,
    prior_for,
    sudden_ends,
)

__all__ = [
    "approach_per_mm", "first_gain", "first_gain_sd", "limits_um", "past_ways_of", "planned_age_of", "prior_of",
    "priors_on", "sudden_ends_of", "tolerance_um",
]  # fmt: skip

T = TypeVar("T")


def tolerance_um(characteristic: Characteristic) -> float:
    """Width of the tolerance in µm; twice the distance from aim to limit where one side is open."""
    return characteristic.tolerance_um


def limits_um(characteristic: Characteristic) -> tuple[float | None, float | None]:
    """Lower and upper limit of the tolerance, µm minus aim; None where a side is open."""
    return characteristic.low_um, characteristic.high_um


def first_gain(characteristic: Characteristic) -> float | None:
    """First guess of µm smaller per µm that the dies approach; None where the slide does not set it.

    The plan's word first; then what the geometry it names gives; else 0.9 for sizes that a deeper slide makes
    smaller and −1 for groove depth and crest (common practice, no source).
    """
    if not characteristic.is_set_by_slide:
        return None
    if characteristic.penetration_gain is not None:
        return characteristic.penetration_gain
    known = _of_geometry(characteristic)
    if known is not None:
        return known.gain
    return -1.0 if characteristic.kind in ("groove_depth", "crest_diameter") else 0.9


def _of_geometry(characteristic: Characteristic) -> GainGuess | None:
    """What the plan's geometry tells of the gain, worked out when the plan was taken in."""
    return None if characteristic.geometry is None else characteristic.geometry.gain


def first_gain_sd(characteristic: Characteristic) -> float | None:
    """Standard deviation of the first guess where the geometry gave it; None: the usual share of it."""
    known = _of_geometry(characteristic)
    given = characteristic.penetration_gain is not None or not characteristic.is_set_by_slide
    return None if given or known is None else known.share_sd * abs(known.gain)


def approach_per_mm(machine: Machine) -> float:
    """Return µm that the dies approach per mm of displayed slide travel: twice as much with two slides."""
    return 2000.0 if machine.slides == "two" else 1000.0


def prior_of(state: StreamState, name: str, machine: str) -> WearPrior | None:
    """Return the prior of one characteristic on one machine, None where the plan no longer has it."""
    return priors_on(state, machine).get(name)


def priors_on(state: StreamState, machine: str) -> Mapping[str, WearPrior]:
    """Return the prior of each characteristic that the plan has gauged, on one machine; none without a plan."""
    plan = state.plan
    if plan is None:
        return {}
    return _once(_priors, (state.finished, plan), (machine,), lambda: _on_machine(state, plan, machine))


def past_ways_of(state: StreamState, name: str) -> PastWays:
    """Lay out what earlier sets of the part left for the forecast of one characteristic."""
    return _once(_pasts, (state.finished,), (name,), lambda: past_ways(_ways_of(state, name)))


def planned_age_of(state: StreamState, costs: Costs) -> PlannedAge | None:
    """Find the planned age of the part's sets at these costs; None before one has come to its end."""
    money = (costs.planned_die_change, costs.unplanned)
    return _once(_ages, (state.finished,), money, lambda: planned_age(state.finished, *money))


def sudden_ends_of(state: StreamState) -> SuddenEnds | None:
    """Say how often sets of the part chipped; None before the first came off."""
    return _once(_sudden, (state.finished,), (), lambda: sudden_ends(state.finished))


def _on_machine(state: StreamState, plan: Plan, machine: str) -> dict[str, WearPrior]:
    roles = [
        SlideRole(each.name, tolerance_um(each), first_gain(each), first_gain_sd(each))
        for each in plan.gauged
    ]
    of_part = _once(
        _of_part, (state.finished, plan), (), lambda: [prior_for(role, state.finished) for role in roles]
    )
    return {
        role.name: on_machine(prior, role, state.finished, machine)
        for role, prior in zip(roles, of_part, strict=True)
    }


def _ways_of(state: StreamState, name: str) -> list[PastWay]:
    return [way for each in state.finished for what, way in each.ways if what == name]


_MOST_KEPT = 512
_priors: dict[tuple[object, ...], tuple[tuple[object, ...], dict[str, WearPrior]]] = {}
_of_part: dict[tuple[object, ...], tuple[tuple[object, ...], list[WearPrior]]] = {}
_pasts: dict[tuple[object, ...], tuple[tuple[object, ...], PastWays]] = {}
_ages: dict[tuple[object, ...], tuple[tuple[object, ...], PlannedAge | None]] = {}
_sudden: dict[tuple[object, ...], tuple[tuple[object, ...], SuddenEnds | None]] = {}


def _once(
    kept: dict[tuple[object, ...], tuple[tuple[object, ...], T]],
    of: tuple[object, ...],
    key: tuple[object, ...],
    make: Callable[[], T],
) -> T:
    """Work a pure answer out once for the very same objects `of`; they are kept with it, so no id comes twice."""
    full_key = (*map(id, of), *key)
    found = kept.get(full_key)
    if found is not None:
        return found[1]
    if len(kept) >= _MOST_KEPT:
        kept.clear()
    made = make()
    kept[full_key] = (of, made)
    return made
