"""All sizes that the slide sets, as the advice to move it looks at them."""

import math
from collections.abc import Sequence

from spc.shop import Characteristic
from spc.station.context import CheckContext
from spc.station.judged import Judged
from spc.station.priors import tolerance_um
from spc.wear import SlideSize, WearBelief, forecast_mean, gain_of, level_um, sigma_um
from spc.wear.belief import GAIN, RATE

__all__ = ["slide_sizes"]


def slide_sizes(context: CheckContext, judged: Sequence[Judged]) -> list[SlideSize]:
    """Lay out every size that the slide sets; none where this check gauged none of them.

    Parameters
    ----------
    judged : sequence of Judged
        Of this check; what it did not gauge stands as earlier checks of the set leave it.
    """
    now = [each for each in judged if each.characteristic.is_set_by_slide and each.gain]
    if not now:
        return []
    sizes = [
        _size(
            context,
            each.characteristic,
            each.belief,
            each.gain,
            (each.level_um, each.level_sd_um, each.sigma_um),
        )
        for each in now
    ]
    return sizes + _known_before(context, {each.name for each in sizes})


def _known_before(context: CheckContext, gauged: set[str]) -> list[SlideSize]:
    found = []
    for characteristic in context.plan.gauged:
        if characteristic.name in gauged or not characteristic.is_set_by_slide:
            continue
        belief = context.belief(characteristic)
        if belief is None or belief.checks == 0 or not gain_of(belief):
            continue
        sigma = max(sigma_um(context.chart(characteristic).spread), 1e-3)
        ahead = forecast_mean(belief, context.approach_um, 1e-6)
        levels = (level_um(belief, context.approach_um), ahead.sd_um, sigma)
        found.append(_size(context, characteristic, belief, gain_of(belief), levels))
    return found


def _size(
    context: CheckContext,
    characteristic: Characteristic,
    belief: WearBelief | None,
    gain: float,
    levels: tuple[float, float, float],
) -> SlideSize:
    """`levels`: size minus target, how sure that is, spread of one piece, all in µm."""
    level, level_sd, sigma = levels
    growth, growth_sd, wander = _until_next(context, characteristic, belief)
    return SlideSize(
        name=characteristic.name,
        level_um=level,
        level_sd_um=level_sd,
        growth_um=growth,
        gain=gain,
        sigma_um=sigma,
        low_um=characteristic.low_um,
        high_um=characteristic.high_um,
        tolerance_um=tolerance_um(characteristic),
        growth_sd_um=growth_sd,
        wander_um=wander,
        gain_sd=0.0 if belief is None else math.sqrt(max(belief.var(GAIN), 0.0)),
    )


def _until_next(
    context: CheckContext, characteristic: Characteristic, belief: WearBelief | None
) -> tuple[float, float, float]:
    """Growth until the next check, how sure that is, and what wander and new bars may do besides, all in µm."""
    pieces = context.plan.check.pieces_between(context.pieces_per_hour)
    if belief is None or pieces is None or not context.age:
        return 0.0, 0.0, 0.0
    prior = context.prior(characteristic)
    k = pieces / 1000.0
    shift = 2.0 * prior.wander_sd_um**2 * -math.expm1(-pieces / prior.wander_pieces)
    batches = 2.0 * prior.batch_sd_um**2 * min(context.die_set.batches * pieces / context.age, 1.0)
    return belief.mean[RATE] * k, math.sqrt(max(belief.var(RATE), 0.0)) * k, math.sqrt(shift + batches)
