"""The raw mean against its acceptance limits, three piece-spreads inside the tolerance."""

from collections.abc import Iterator, Sequence

from spc.shop import Characteristic, Notice, Signal
from spc.shop.names import shop_name
from spc.station.contained import share_outside
from spc.station.judged import Judged

__all__ = ["acceptance_notices", "past_acceptance_um"]

_SPREADS = 3.0
"""Common practice: a piece then lies outside once in 741."""
_LEAST_DF = 16.0
"""Degrees of freedom from which a spread is known well enough to speak of it."""


def past_acceptance_um(characteristic: Characteristic, mean: float, sigma_um: float) -> float:
    """Say by how much a mean leaves less than three piece-spreads to a limit of the tolerance.

    Parameters
    ----------
    mean : float
        As gauged, plan's unit.
    sigma_um : float
        Spread of one piece.

    Returns
    -------
    float
        µm: above 0 past the upper acceptance limit, below 0 past the lower one, 0 inside; 0 too where the tolerance
        is so narrow that nothing is inside.

    References
    ----------
    Freund (1957), ISO 7870-3 (from memory).
    """
    low, high, room_um = characteristic.low_um, characteristic.high_um, _SPREADS * sigma_um
    if low is not None and high is not None and high - low <= 2.0 * room_um:
        return 0.0
    mean_um = (mean - float(characteristic.aim)) * characteristic.um_per_unit
    if high is not None and mean_um > high - room_um:
        return mean_um - (high - room_um)
    if low is not None and mean_um < low + room_um:
        return mean_um - (low + room_um)
    return 0.0


def acceptance_notices(judged: Sequence[Judged], signals: Sequence[Signal]) -> Iterator[Notice]:
    """Say which mean is past its acceptance limit although every piece is inside, where no signal says more.

    Parameters
    ----------
    signals : sequence of Signal
        Of this check.
    """
    told = {each.characteristic for each in signals}
    for each in judged:
        name = each.characteristic.name
        if name in told or each.subgroup.suspect or each.chart.spread.df < _LEAST_DF:
            continue
        past_um = past_acceptance_um(each.characteristic, each.subgroup.mean, each.sigma_um)
        if past_um:
            in_1000 = 1000.0 * share_outside(each, each.level_um)
            many = (
                "less than 1 piece" if in_1000 < 1.0 else f"about {in_1000:.0f} piece{'s' * (in_1000 >= 1.5)}"
            )
            side = "upper" if past_um > 0.0 else "lower"
            yield Notice(
                name,
                f"the mean of {shop_name(name)} is {abs(past_um):.1f} µm past its {side} acceptance limit, three "
                f"spreads of a piece inside the tolerance: {many} in 1,000 would be out",
            )
