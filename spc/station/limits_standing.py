"""Which limits stand for every size of a plan on a machine now, those included that judge from the next check on."""

from dataclasses import dataclass
from datetime import datetime

from spc.shop import Characteristic, Plan
from spc.station.beyond_tolerance import beyond_tolerance
from spc.station.history import characteristic_histories
from spc.station.refold import present_state
from spc.station.review_limits import limits_at_end
from spc.station.review_records import LimitsInForce
from spc.station.views import CheckPoint
from spc.store import Shelf

__all__ = ["LimitsStanding", "limits_standing"]


@dataclass(frozen=True, slots=True)
class LimitsStanding:
    """The limits that judge the next check of one characteristic.

    Attributes
    ----------
    limits : LimitsInForce or None
        For the usual number of pieces a check; None where none stand.
    says : str
        Why none stand; "" where some do.
    beyond : str
        Where they reach beyond the tolerance; "" where they do not, or follow the die.
    is_waiting : bool
        Signed, and no check was judged by them yet.
    """

    characteristic: Characteristic
    limits: LimitsInForce | None
    says: str
    beyond: str
    is_waiting: bool

    @property
    def is_open(self) -> bool:
        """Whether these limits wait for a name."""
        return self.limits is not None and self.limits.standing == "provisional"


def limits_standing(shelf: Shelf, plan: Plan, machine: str) -> tuple[LimitsStanding, ...]:
    """Return what stands for every gauged characteristic, for whoever looks after the plan.

    Notes
    -----
    From the state after all facts, not from the last check: what somebody signed a moment ago is in it.
    """
    state = present_state(shelf, plan.part)
    drawn = {each.characteristic.name: each.points for each in characteristic_histories(shelf, plan, machine)}
    found = []
    for each in plan.gauged:
        points = [point for point in drawn.get(each.name, ()) if not point.struck_out and not point.suspect]
        limits, says = limits_at_end(state, machine, each, points)
        found.append(_one(each, limits, says, points))
    return tuple(found)


def _one(
    characteristic: Characteristic, limits: LimitsInForce | None, says: str, points: list[CheckPoint]
) -> LimitsStanding:
    if limits is None or limits.as_of is not None:
        return LimitsStanding(characteristic, limits, says, "", False)
    beyond = beyond_tolerance(characteristic, limits.lower, limits.upper)
    return LimitsStanding(characteristic, limits, says, beyond, _is_waiting(limits.signed_at, points))


def _is_waiting(signed_at: datetime | None, points: list[CheckPoint]) -> bool:
    return signed_at is not None and all(point.time < signed_at for point in points)
