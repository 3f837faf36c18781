"""The model's priors of a part's characteristics: from the plan, the machine and the die sets that ended."""

from spc.shop import Characteristic, Machine
from spc.station.state import StreamState
from spc.wear import SlideRole, WearPrior, past_ways, prior_for

__all__ = ["approach_per_mm", "first_gain", "prior_of", "tolerance_um"]


def tolerance_um(characteristic: Characteristic) -> float:
    """Width of the tolerance in µm; twice the distance from aim to limit where one side is open."""
    width = characteristic.tolerance.width
    if width is None:
        limit = characteristic.tolerance.upper
        limit = limit if limit is not None else characteristic.tolerance.lower
        width = 2 * abs((limit if limit is not None else characteristic.nominal) - characteristic.aim)
    return max(float(width) * characteristic.um_per_unit, 1.0)


def first_gain(characteristic: Characteristic) -> float | None:
    """First guess of µm smaller per µm that the dies approach; None where the slide does not set it.

    The plan's word first; else 0.9 for sizes that a deeper slide makes smaller and −1 for groove depth and
    crest (common practice, no source).
    """
    if not characteristic.is_set_by_slide:
        return None
    if characteristic.penetration_gain is not None:
        return characteristic.penetration_gain
    return -1.0 if characteristic.kind in ("groove_depth", "crest_diameter") else 0.9


def approach_per_mm(machine: Machine) -> float:
    """Return µm that the dies approach per mm of displayed slide travel: twice as much with two slides."""
    return 2000.0 if machine.slides == "two" else 1000.0


def prior_of(state: StreamState, name: str, machine: str = "") -> WearPrior | None:
    """Return the prior of one characteristic, None where the plan no longer has it."""
    plan = state.plan
    if plan is None:
        return None
    return _CACHE_of(state, plan, name, machine)


_CACHE: dict = {}


def _CACHE_of(state, plan, name, machine):
    key = (id(state.finished), id(plan), name, machine)
    got = _CACHE.get(key)
    if got is not None and got[0] is state.finished and got[1] is plan:
        return got[2]
    if len(_CACHE) > 2000:
        _CACHE.clear()
    p = _prior(state, plan, name, machine)
    _CACHE[key] = (state.finished, plan, p)
    return p


def _prior(state, plan, name, machine):
    for characteristic in plan.gauged:
        if characteristic.name == name:
            role = SlideRole(name, tolerance_um(characteristic), first_gain(characteristic))
            return prior_for(role, state.finished, machine)
    return None


_PAST: dict = {}


def past_ways_of(state, name):
    key = (id(state.finished), name)
    got = _PAST.get(key)
    if got is not None and got[0] is state.finished:
        return got[1]
    if len(_PAST) > 200:
        _PAST.clear()
    p = past_ways([way for each in state.finished for what, way in each.ways if what == name])
    _PAST[key] = (state.finished, p)
    return p
