"""One characteristic as one check gauged it: values, mean, and how far chance alone may move that mean."""

from dataclasses import dataclass
from decimal import Decimal

from spc.shop import Characteristic
from spc.shop.quickly_made import quickly_made
from spc.station.context import CheckContext
from spc.wear import Forecast, WarmUp, WearBelief, forecast_mean, sigma_um, still_cold

__all__ = ["Gauged", "expected_mean", "gauged_now"]

_LEAST_SIGMA_UM = 1e-3


@quickly_made
@dataclass(frozen=True, slots=True)
class Gauged:
    """A subgroup in the terms of the model.

    Attributes
    ----------
    values : tuple of Decimal
        One a piece, plan's unit.
    values_um : tuple of float
        Minus target.
    mean_um : float
        Minus target.
    sigma_um : float
        Spread of one piece as known before this check.
    white_um2 : float
        σ²/n.
    noise_um2 : float
        With what moves a check as a whole.
    cold : float
        Share of the warm-up that is left; 0 on a warm machine.
    warm_up : WarmUp
        As believed before this check.
    """

    values: tuple[Decimal, ...]
    values_um: tuple[float, ...]
    mean_um: float
    sigma_um: float
    white_um2: float
    noise_um2: float
    cold: float
    warm_up: WarmUp

    @property
    def n(self) -> int:
        """Pieces."""
        return len(self.values)

    @property
    def cold_um(self) -> float:
        """What the cold machine is believed to add, µm."""
        return self.cold * self.warm_up.height_um


def gauged_now(context: CheckContext, characteristic: Characteristic, values: tuple[Decimal, ...]) -> Gauged:
    """Put a subgroup in the terms of the model.

    Parameters
    ----------
    values : tuple of Decimal
        One a piece, in the plan's unit; at least one.
    """
    unit_um, aim = characteristic.um_per_unit, characteristic.aim
    values_um = tuple([float(value - aim) * unit_um for value in values])
    chart = context.chart(characteristic)
    sigma = max(sigma_um(chart.spread), _LEAST_SIGMA_UM)
    white = sigma**2 / len(values)
    cold = still_cold(context.pieces_since_start)
    warm_up = context.warm_up(characteristic)
    noise = white + cold**2 * warm_up.doubt_um2
    if context.age is not None:
        noise += context.prior(characteristic).check_sd_um ** 2
    return Gauged(values, values_um, sum(values_um) / len(values), sigma, white, noise, cold, warm_up)


def expected_mean(context: CheckContext, belief: WearBelief | None, gauged: Gauged) -> Forecast | None:
    """Say what the mean should be by all that is known; None where there is no model."""
    if belief is None:
        return None
    ahead = forecast_mean(belief, context.approach_um, gauged.noise_um2)
    return Forecast(ahead.mean_um + gauged.cold_um, ahead.sd_um) if gauged.cold else ahead
