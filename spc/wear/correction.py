"""The advice to move the slide: one move, in steps the machine can make, or none."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from spc.errors import Refused
from spc.shop.quickly_made import quickly_made
from spc.wear.saw_tooth import saw_tooth_lead

__all__ = ["Advice", "SlideSize", "advise"]

_ROOM = 0.5
"""Share of the room up to the acceptance limits that a mean may use before anybody moves (common practice)."""
_NARROWEST, _WIDEST = 0.05, 0.15
"""Shares of the tolerance between which that stays."""


@quickly_made
@dataclass(frozen=True, slots=True)
class SlideSize:
    """One characteristic that the slide sets, as it stands for the coming interval.

    Attributes
    ----------
    level_um : float
        Size minus target as believed now, µm.
    level_sd_um : float
        How sure that is.
    growth_um : float
        Expected growth until the next check, µm.
    gain : float
        µm smaller per µm of approach.
    sigma_um : float
        Spread of one piece.
    low_um, high_um : float or None
        Tolerance minus target.
    tolerance_um : float
        Width of the tolerance.
    growth_sd_um : float
        How sure the growth until the next check is, in the long run.
    wander_um : float
        How far the size goes at random until the next check, besides.
    gain_sd : float
        How sure the gain is.
    """

    name: str
    level_um: float
    level_sd_um: float
    growth_um: float
    gain: float
    sigma_um: float
    low_um: float | None
    high_um: float | None
    tolerance_um: float
    growth_sd_um: float = 0.0
    wander_um: float = 0.0
    gain_sd: float = 0.0

    def ahead_um(self, approach_um: float) -> float:
        """Mean over the coming interval, minus target, if the slide moves so far."""
        return self.level_um + self.growth_um / 2.0 - self.gain * approach_um

    def is_safe(self, approach_um: float) -> bool:
        """Whether the mean would stay three piece-spreads inside, or at least no nearer a limit than now."""
        ahead, now = self.ahead_um(approach_um), self.ahead_um(0.0)
        high = self.high_um is None or ahead + 3 * self.sigma_um <= self.high_um or ahead <= now
        low = self.low_um is None or ahead - 3 * self.sigma_um >= self.low_um or ahead >= now
        return high and low

    @property
    def room_um(self) -> float:
        """From target to the nearer acceptance limit, three piece-spreads inside the tolerance; 0 or more."""
        edges = [abs(each) for each in (self.low_um, self.high_um) if each is not None]
        return max(min(edges, default=self.tolerance_um / 2.0) - 3.0 * self.sigma_um, 0.0)

    @property
    def deadband_um(self) -> float:
        """What is left alone: half the room, but 5 to 15 % of the tolerance; two standard errors at least."""
        band = max(_NARROWEST * self.tolerance_um, min(_ROOM * self.room_um, _WIDEST * self.tolerance_um))
        return max(band, 2.0 * self.level_sd_um)

    @property
    def aim_um(self) -> float:
        """Where to put the mean of the coming interval, minus target: a little to the side that growth comes from.

        Half the growth of that interval is met by looking at its middle.
        """
        lead = saw_tooth_lead(self.growth_um, self.growth_sd_um, self.wander_um, self.deadband_um)
        lead = max(lead - abs(self.growth_um) / 2.0, 0.0)
        return -math.copysign(min(lead, self.room_um / 2.0), self.growth_um)


@dataclass(frozen=True, slots=True)
class Advice:
    """Approach in µm, a whole number of steps, positive deeper; and what drove it."""

    approach_um: float
    characteristic: str
    lands_um: tuple[tuple[str, float], ...]


def advise(
    sizes: Sequence[SlideSize], step_um: float, largest_um: float | None, deepest_um: float | None = None
) -> Advice | None:
    """Choose one move for all sizes that the slide sets, or None where it should stay.

    Parameters
    ----------
    sizes : sequence of SlideSize
        All characteristics that this slide sets, each with a tolerance above 0.
    step_um : float
        Smallest approach of the dies the machine can make (slide step, twice that with two slides), above 0.
    largest_um : float or None
        Largest approach allowed at once; below one step no move is ever advised.
    deepest_um : float or None
        How much deeper the dies may still go; 0 or less allows only shallower.

    Returns
    -------
    Advice or None
        A whole number of steps, never 0.

    Raises
    ------
    Refused
        Where step or tolerance is not above 0, or a level, growth or gain is not a number.

    Notes
    -----
    For each size, all µm minus target: level x ± s, growth d and gain g ± s_g until the next check, spread of a piece
    σ, tolerance T, nearer limit E away,

        ahead = x + d/2,   room = max(E − 3σ, 0),   D = max(T/20, min(room/2, 0.15·T), 2s).

    A move is looked for only when |ahead| of some size is above its D (and above half of what one step does to it). It
    minimises Σ E[(ahead − aim − g·u)²]/T², the expected squared distances from where each size should be put:

        u = Σ g·(ahead − aim)/T² / Σ (g² + s_g²)/T²,   aim = −sign(d)·min(max(lead − |d|/2, 0), room/2)

    with the lead of `saw_tooth_lead`; a gain that is not sure makes it shorter. u is rounded to whole steps, cut to
    the largest and the deepest allowed, and then to what is safe: it drives no size nearer a limit than three
    piece-spreads. It comes from the filtered level, never from one reading. A size lands at x − g·u.

    Examples
    --------
    A size 8 µm too large, tolerance ±18 µm, 0.8 µm smaller per µm of approach: 10 µm deeper.

    >>> size = SlideSize("over_pin", 8.0, 0.5, 0.0, 0.8, 2.0, -18.0, 18.0, 36.0)
    >>> advise([size], 1.0, 20.0).approach_um
    10.0

    The worked hour of the README: ahead 4.44, D 2.91, lead 1.02, aim −0.60, so u = 0.890·5.03/(0.890² + 0.045²) = 5.64.

    >>> hour = SlideSize("over_wire", 4.01, 0.85, 0.854, 0.890, 1.894, -11.5, 13.5, 25.0, 0.439, 1.145, 0.045)
    >>> round(hour.ahead_um(0.0), 2), round(hour.deadband_um, 2), round(hour.aim_um, 2)
    (4.44, 2.91, -0.6)
    >>> advise([hour], 1.0, 20.0).approach_um
    6.0

    References
    ----------
    Own calculus; adjustment with a deadband as in G. E. P. Box & A. Luceño, *Statistical Control by Monitoring and
    Feedback Adjustment* (1997) (from memory).
    """
    _expect(sizes, step_um)
    if not any(_is_off(size, step_um) for size in sizes):
        return None
    weight = sum((each / size.tolerance_um) ** 2 for size in sizes for each in (size.gain, size.gain_sd))
    best = sum(size.gain * _from_aim(size) / size.tolerance_um**2 for size in sizes) / weight
    steps = _safe_part(sizes, _whole_steps(best, step_um, largest_um, deepest_um), step_um)
    if steps == 0:
        return None
    approach = steps * step_um
    moved = [size for size in sizes if size.gain != 0.0]
    worst = max(moved, key=lambda size: abs(size.ahead_um(0.0)) / size.tolerance_um)
    lands = tuple((size.name, size.level_um - size.gain * approach) for size in sizes)
    return Advice(approach, worst.name, lands)


def _expect(sizes: Sequence[SlideSize], step_um: float) -> None:
    if not 0.0 < step_um < math.inf:
        raise Refused.one("the slide step is not above 0", value=str(step_um), allowed="above 0 µm")
    for size in sizes:
        if not 0.0 < size.tolerance_um < math.inf:
            got, name = str(size.tolerance_um), size.name
            raise Refused.one("the width of a tolerance is not above 0", value=got, column=name)
        if not math.isfinite(size.level_um + size.level_sd_um + size.growth_um + size.gain + size.sigma_um):
            raise Refused.one(
                "level, growth, gain or spread is not a number", value=str(size), column=size.name
            )


def _from_aim(size: SlideSize) -> float:
    return size.ahead_um(0.0) - size.aim_um


def _is_off(size: SlideSize, step_um: float) -> bool:
    """Whether the slide should be asked: a size it does not move (gain 0) is no reason to move it."""
    if size.gain == 0.0:
        return False
    return abs(size.ahead_um(0.0)) > max(size.deadband_um, 0.5 * abs(size.gain) * step_um)


def _whole_steps(best_um: float, step_um: float, largest_um: float | None, deepest_um: float | None) -> int:
    """The wanted move in whole steps, no larger and no deeper than allowed."""
    whole = round(best_um / step_um)
    if largest_um is not None:
        most = math.floor(largest_um / step_um + 1e-9)
        whole = max(-most, min(most, whole))
    if deepest_um is not None:
        whole = min(whole, max(math.floor(deepest_um / step_um + 1e-9), 0))
    return whole


def _safe_part(sizes: Sequence[SlideSize], wanted: int, step_um: float) -> int:
    """Most of the wanted steps that are safe for all; 0 where not even one is.

    What is safe for so many steps is safe for fewer: each mean goes one way, from where it stands. So the last
    safe one is found by halving.
    """
    sign = 1 if wanted > 0 else -1
    safe, beyond = 0, abs(wanted) + 1
    while beyond - safe > 1:
        middle = (safe + beyond) // 2
        if all(size.is_safe(sign * middle * step_um) for size in sizes):
            safe = middle
        else:
            beyond = middle
    return sign * safe
