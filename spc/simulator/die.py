"""How a die set wears: fast when new, then steady, then quicker; in this simulator's own equations.

Growth of a size after ``e`` thousand ordinary pieces (own choice, only for an invented shop)::

    w(e) = r e + 1.5 r t (1 - exp(-e / t)) + r q (e - k)^2 / (2 k (1 - 0.6))   (last term from the knee k on)

with r the steady growth, t = 5 % of the knee for the break-in, and q = 1.4 for the quickening. A hard bar
batch makes more than one ordinary piece of each piece it rolls.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial

from spc.simulator.cell import Feature, Machine, Part
from spc.simulator.dice import Dice

__all__ = ["DieLife", "draw_life"]

BREAK_IN_SHARE = 0.05
BREAK_IN_EXTRA = 1.5
QUICKENING = 1.4
QUICKENING_SPAN = 0.4
SEARCH_LIMIT = 1000.0


@dataclass(slots=True)
class DieLife:
    """One life of a die set while it is lived.

    Attributes
    ----------
    rate, gain, offset_um : dict of float
        By characteristic: steady growth in µm per thousand, true gain per mm of centre distance, and how far
        the form stands off when the dies stand at depth 0.
    lead_per_um : dict of float
        By lead characteristic: µm of lead per µm of growth.
    worked : float
        Thousand ordinary pieces so far.
    depth_um : float
        Centre distance taken in, µm; a hidden, absolute position.
    first_depth_um : float or None
        That position at the first check of this life.
    """

    die_set: str
    life: int
    part: Part
    knee: float
    rate: dict[str, float]
    gain: dict[str, float]
    offset_um: dict[str, float]
    lead_per_um: dict[str, float]
    worked: float = 0.0
    age: float = 0.0
    counter: float = 0.0
    depth_um: float = 0.0
    first_depth_um: float | None = None
    end_worked: float = math.inf
    end_age: float | None = None
    limited_by: str = ""
    limit: str = ""
    chipped: bool = False
    chip_seen: int = 0
    mounted: list[datetime] = field(default_factory=list)
    removed: list[datetime] = field(default_factory=list)
    reason: str = ""

    def wear_um(self, name: str, worked: float | None = None) -> float:
        """Growth of a size by wear, µm, after `worked` thousand ordinary pieces (default: now)."""
        done = self.worked if worked is None else worked
        rate, settle = self.rate[name], BREAK_IN_SHARE * self.knee
        late = max(0.0, done - self.knee)
        return (
            rate * done
            + BREAK_IN_EXTRA * rate * settle * -math.expm1(-done / settle)
            + rate * QUICKENING * late * late / (2.0 * QUICKENING_SPAN * self.knee)
        )

    def spread(self) -> float:
        """Return by how much the worn dies widen the spread: 1 before the knee, at most 1.25."""
        return 1.0 + 0.25 * min(1.0, max(0.0, self.worked - self.knee) / (QUICKENING_SPAN * self.knee))

    def form_um(self, name: str) -> float:
        """Size from its target by die and slide alone, µm."""
        return self.offset_um[name] + self.wear_um(name) - self.gain[name] * self.depth_um

    def lead_um(self, feature: Feature, worked: float | None = None) -> float:
        """Mean of a lead or pitch deviation, µm."""
        first = self.part.sizes[0].name
        return self.offset_um[feature.name] + self.lead_per_um[feature.name] * self.wear_um(first, worked)

    def need_um(self, name: str, worked: float) -> float:
        """Centre distance beyond the first setting that holds a size on target, µm."""
        holding_um = (self.offset_um[name] + self.wear_um(name, worked)) / self.gain[name]
        return holding_um - (self.first_depth_um or 0.0)

    def settle_end(self, machine: Machine) -> None:
        """Work out, once the first setting is known, after how much work this life must end and by what."""
        travel_um = 1000.0 * self.part.correction_travel_mm * machine.travel_factor
        ends = [
            (_crossing(partial(self.need_um, size.name), travel_um), size.name, "travel")
            for size in self.part.sizes
        ]
        for feature in self.part.features:
            if feature.nature == "lead" and feature.wears_with_die and feature.upper is not None:
                limit_um = feature.upper * feature.um_per_unit
                ends.append((_crossing(partial(self.lead_um, feature), limit_um), feature.name, "limit"))
        self.end_worked, self.limited_by, self.limit = min(ends)

    def make(self, pieces: float, harshness: float) -> None:
        """Roll pieces; a harsh batch counts for more than ordinary ones."""
        before = self.worked
        self.worked += pieces / 1000.0 * harshness
        if self.end_age is None and before < self.end_worked <= self.worked:
            self.end_age = self.age + (self.end_worked - before) * 1000.0 / harshness
        self.age += pieces
        self.counter += pieces

    def expected_end_age(self) -> float:
        """Age at which wear ends this life: reached, or extrapolated with ordinary batches."""
        if self.end_age is not None:
            return self.end_age
        return self.age + (self.end_worked - self.worked) * 1000.0


def draw_life(part: Part, die_set: str, life: int, dice: Dice) -> DieLife:
    """Draw the hidden properties of a new or reground die set.

    Parameters
    ----------
    part : Part
        The part it rolls.
    die_set : str
        Its id.
    life : int
        1 for new, 2 after the first regrind, and so on.
    dice : Dice
        Named by the die set and life, so that decisions at the slide don't change it.

    Returns
    -------
    DieLife
        Unused, not mounted.
    """
    toughness = math.exp(dice.normal(0.0, 0.13))
    rate, gain, offset = {}, {}, {}
    for place, size in enumerate(part.sizes):
        rate[size.name] = size.wear_um_per_1000 * toughness * math.exp(dice.normal(0.0, 0.05))
        gain[size.name] = size.gain + dice.normal(0.0, 0.015)
        offset[size.name] = dice.normal(0.0, 2.5) if place else 0.0
    lead: dict[str, float] = {}
    for feature in part.features:
        if feature.nature in ("lead", "pitch"):
            offset[feature.name] = feature.base_um + dice.normal(0.0, 1.0)
            lead[feature.name] = feature.follows_wear * math.exp(dice.normal(0.0, 0.25))
    knee = part.knee_thousand / toughness * math.exp(dice.normal(0.0, 0.1))
    return DieLife(die_set, life, part, knee, rate, gain, offset, lead)


def _crossing(curve: Callable[[float], float], level: float) -> float:
    low, high = 0.0, SEARCH_LIMIT
    if curve(high) < level:
        return math.inf
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (low, middle) if curve(middle) >= level else (middle, high)
    return high
