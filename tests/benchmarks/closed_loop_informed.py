"""Who sees no more than the station, but knows how the shop of the race draws its dies: what is to be had at best."""

from dataclasses import dataclass, field

import numpy as np
from scipy.special import ndtr

from spc.shop import EventLogged
from tests.benchmarks.closed_loop_account import Costs
from tests.benchmarks.closed_loop_machine import AGAIN_PIECES, Action, Seen
from tests.benchmarks.closed_loop_particles import BREAKS_AFTER, BREAKS_BY_CHANCE, Cloud
from tests.benchmarks.closed_loop_shop import Part, draw_set, warm_effect

__all__ = ["Informed"]

AHEAD = np.linspace(0.0, 6000.0, 41)


@dataclass
class Informed:
    """Moves, sorts and changes dies like the one that knows all, by what readings can tell at best.

    It has its gauge set on its master where the doubt of it may cost more, and holds a piece to be worth what it is in
    hindsight.
    """

    part: Part
    costs: Costs
    sets: int
    cloud: Cloud = field(init=False)
    number: int = -1
    started: int = 0
    looked: bool = False

    def __post_init__(self) -> None:
        """Half the room is its deadband; what a piece costs in dies on average comes from the lives themselves."""
        self.deadband_um = min(max(0.5 * (self.part.half_um - 3.0 * self.part.sigma_um), 2.0), 4.0)
        lives = [
            min(die.end_age, die.broken_age) for die in (draw_set(self.part, i) for i in range(self.sets))
        ]
        self.worth = (self.costs.die_set + self.costs.planned_change) / float(np.mean(lives))

    def told(self, event: EventLogged) -> None:
        """Hear what was logged."""
        match event.event:
            case "die_set_mounted":
                self.number, self.started = self.number + 1, 0
                self.cloud = Cloud(self.part, np.random.default_rng([self.part.seed, 3, self.number]))
            case "blank_batch":
                self.cloud.new_bars()
            case "machine_stopped":
                self.started = event.counter or 0
            case "gauge_mastered":
                self.cloud.gauge_set(float(event.value))

    def decide(self, seen: Seen) -> Action:
        """Take the check in, and act on what is believed."""
        cloud, costs, before, age = self.cloud, self.costs, self.cloud.age, seen.truth.age
        cloud.on_to(age)
        known = warm_effect(self.part, max(age - self.started, 0)) - self.part.gain * seen.approach_um
        cloud.see(np.array(seen.values_um), known, seen.lead_um)
        weights, gap = cloud.weights(), seen.truth.gap
        level, var = cloud.level()
        middle = float(weights @ level)
        growth = float(weights @ (cloud.growth_at(age + gap) - cloud.growth_at(age)))
        off = middle + known + 0.5 * growth
        pays = (costs.bad_passed_on - costs.bad_found) * self._share(level + known, var) > costs.sorted_piece
        held, left = before if pays else None, self._left(gap, weights)
        change = round(left) if left <= 1.2 * gap else None
        doubt = self._share(level - middle, var) - self._share(np.zeros_like(var), np.zeros_like(var))
        if costs.bad_found * doubt * gap > costs.look and not self.looked:
            self.looked = True
            return Action(0, held, change, look=True, next_pieces=AGAIN_PIECES)
        self.looked = False
        move = round((off + 0.5 * self.deadband_um) / self.part.gain) if abs(off) > self.deadband_um else 0
        return Action(max(-20, min(20, move)), held, change)

    def _share(self, level: np.ndarray, var: np.ndarray) -> float:
        """Share of pieces out of tolerance at levels that the particles believe, so sure."""
        spread, half = np.sqrt(self.cloud.sigma() ** 2 + var), self.part.half_um
        return float(self.cloud.weights() @ (ndtr((level - half) / spread) + ndtr((-half - level) / spread)))

    def _left(self, gap: int, weights: np.ndarray) -> float:
        """Pieces after which a change is cheapest, by all sets that the readings leave possible."""
        past, bad_leads = self.cloud.ahead(AHEAD)
        alive = np.exp(-past / BREAKS_AFTER - AHEAD[:, None] / BREAKS_BY_CHANCE)
        broken = self.costs.unplanned_change + (0.5 * self.costs.bad_found + self.costs.sorted_piece) * gap
        price = alive * (self.costs.bad_passed_on * bad_leads - self.worth)
        steps = 0.5 * (price[1:] + price[:-1]) * np.diff(AHEAD)[:, None]
        running = np.concatenate([np.zeros((1, price.shape[1])), np.cumsum(steps, axis=0)])
        cost = (running + broken * (1.0 - alive)) @ weights
        return float(AHEAD[int(np.argmin(cost))])
