"""Control limits in a review: those in force at the end of the period, and those its own checks would give."""

from collections import Counter
from collections.abc import Sequence

from spc.errors import Refused
from spc.shop import Characteristic
from spc.shop.limits import ControlLimits
from spc.station.context import chart_key
from spc.station.limits_now import lower_limit, standing_widths
from spc.station.provisional import TRIAL_SUBGROUPS, in_force
from spc.station.review_records import LimitsInForce
from spc.station.state import StreamState
from spc.station.views import CheckPoint
from spc.statistics import ShewhartLimits, individuals_limits, xbar_r_limits

__all__ = ["beyond_own_limits", "limits_at_end", "period_chart", "usual_pieces"]


def limits_at_end(
    state: StreamState, machine: str, characteristic: Characteristic, points: Sequence[CheckPoint]
) -> tuple[LimitsInForce | None, str]:
    """Return the limits that judge at the end of the period; where none stand, the sentence why.

    Parameters
    ----------
    state : StreamState
        At the end of the period.
    points : sequence of CheckPoint
        Checks of the period that stand and are believed, in order.
    """
    last = next((point for point in reversed(points) if point.purpose == "hourly"), None)
    if last is not None and last.standing == "forecast":
        return _following(last), ""
    chart = state.charts.get(chart_key(machine, characteristic.name))
    stands = characteristic.signed if chart is None else in_force(characteristic, chart)
    if characteristic.judged_by == "with_die_wear" and (last is None or last.age is not None):
        return None, "The limits follow the die: they begin with the second check of a die set."
    if stands is None:
        good = 0 if chart is None else len(chart.trials)
        return None, (
            f"No limits yet: they are set from {TRIAL_SUBGROUPS} good hourly checks, and there are {good}."
        )
    n = usual_pieces(points) or characteristic.subgroup_size
    return _standing(characteristic, stands, n), ""


def period_chart(subgroups: Sequence[Sequence[float]]) -> ShewhartLimits | None:
    """Return centre, mean range and limits of the period's own hourly checks; None with too few of them."""
    several = [group for group in subgroups if len(group) > 1]
    try:
        if several:
            return xbar_r_limits(several)
        return individuals_limits([value for group in subgroups for value in group])
    except Refused:  # too few, or all readings equal: nothing to judge by
        return None


def beyond_own_limits(points: Sequence[CheckPoint]) -> tuple[int, int]:
    """Return how many checks lay beyond the limits of their moment, and how many had limits."""
    judged = [point for point in points if point.lower is not None and point.upper is not None]
    return sum(1 for point in judged if _is_beyond(point)), len(judged)


def usual_pieces(points: Sequence[CheckPoint]) -> int:
    """Return the most frequent number of pieces a check; 0 where there is no check."""
    sizes = Counter(point.n for point in points if point.purpose == "hourly")
    return max(sizes, key=lambda size: (sizes[size], size), default=0)


def _is_beyond(point: CheckPoint) -> bool:
    low, high = point.lower, point.upper
    outside = low is not None and high is not None and not low <= point.mean <= high
    wide = point.n > 1 and point.spread_upper is not None and point.range > point.spread_upper
    return outside or wide


def _following(last: CheckPoint) -> LimitsInForce:
    return LimitsInForce(
        standing="follows the die",
        centre=last.mean if last.centre is None else last.centre,
        lower=last.mean if last.lower is None else last.lower,
        upper=last.mean if last.upper is None else last.upper,
        spread_upper=last.spread_upper,
        sigma_within=None,
        n=last.n,
        subgroups=0,
        as_of=last.time,
    )


def _standing(characteristic: Characteristic, stands: ControlLimits, n: int) -> LimitsInForce:
    """Limits that stand still, for a usual number of pieces a check."""
    width, spread = standing_widths(stands, n)
    return LimitsInForce(
        standing=stands.standing,
        centre=stands.centre,
        lower=lower_limit(characteristic, stands.centre - width),
        upper=stands.centre + width,
        spread_upper=spread,
        sigma_within=stands.sigma_within,
        n=n,
        subgroups=stands.subgroups,
        signed_by=stands.signed_by,
        signed_at=stands.signed_at,
    )
