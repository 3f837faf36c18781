"""What the plan promises on a machine: how often a size calls for nothing, and how soon it finds a step."""

from dataclasses import dataclass
from functools import lru_cache

from spc.shop import Characteristic, Plan
from spc.station.context import chart_key
from spc.station.priors import tolerance_um
from spc.station.provisional import in_force
from spc.station.refold import present_state
from spc.station.state import ChartState, StreamState
from spc.statistics import RULE_SETS, PlanPromise, plan_promise
from spc.store import Shelf
from spc.wear import sigma_um

__all__ = ["CharacteristicPromise", "promise", "step_worth_finding_um"]

_USUAL_STEP_UM = 5.0
_NARROW_UM = 20.0
_LEAST_FREEDOM = 8.0
"""Degrees of freedom behind a spread before anybody promises by it (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class CharacteristicPromise:
    """The promise for one characteristic.

    Attributes
    ----------
    n : int
        Pieces a check.
    sigma_um : float or None
        Spread of one piece within a check (thousandths of a degree for an angle); None where nothing is known.
    step_um : float
        The step asked about.
    source : str
        Where the spread comes from: signed limits, provisional limits, the checks so far; "" where unknown.
    says : str
        The sentence for the page.
    """

    characteristic: Characteristic
    n: int
    sigma_um: float | None
    step_um: float
    source: str
    says: str


def promise(shelf: Shelf, plan: Plan, machine: str) -> tuple[CharacteristicPromise, ...]:
    """Say for every gauged characteristic what its checks promise, for whoever writes or signs a plan.

    Notes
    -----
    By the limits and rules the station judges by, with independent checks and a known spread. Where limits
    follow the die the promise is that of a step the die does not explain, while the forecast is sure.
    """
    state = present_state(shelf, plan.part)
    return tuple(_one(state, each, machine) for each in plan.gauged)


def step_worth_finding_um(characteristic: Characteristic) -> float:
    """Return the step to ask about: 5 µm, or a quarter of a tolerance that is narrower than 20 µm."""
    width = tolerance_um(characteristic)
    return _USUAL_STEP_UM if width >= _NARROW_UM else float(f"{width / 4.0:.2g}")


def _one(state: StreamState, characteristic: Characteristic, machine: str) -> CharacteristicPromise:
    n, step = characteristic.subgroup_size, step_worth_finding_um(characteristic)
    chart = state.charts.get(chart_key(machine, characteristic.name))
    sigma, source = _spread(characteristic, chart)
    if sigma is None:
        says = "Nothing can be promised yet: the spread of a piece is not known."
        return CharacteristicPromise(characteristic, n, None, step, "", says)
    says = _promise(n, sigma, step).says
    if characteristic.unit == "deg":
        says = says.replace(" µm", " thousandths of a degree")
    return CharacteristicPromise(characteristic, n, sigma, step, source, says)


@lru_cache(maxsize=256)
def _promise(n: int, sigma: float, step: float) -> PlanPromise:
    return plan_promise(n, sigma, step, rules=RULE_SETS["house"])


def _spread(characteristic: Characteristic, chart: ChartState | None) -> tuple[float | None, str]:
    if characteristic.judged_by != "with_die_wear":
        stands = characteristic.signed if chart is None else in_force(characteristic, chart)
        if stands is not None:
            return stands.sigma_within * characteristic.um_per_unit, f"{stands.standing} limits"
    if chart is None or chart.spread.df < _LEAST_FREEDOM:
        return None, ""
    return max(sigma_um(chart.spread), 1e-3), "the checks so far"
