"""A machine of the tests' own with known truth: what its dies, slide, bars and gauge do is set by hand."""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import numpy as np
from shaft_size import HOURLY, OVER_PIN_SIZE

from spc.shop import CheckGauged, EventLogged, Fact, PlanTaken, Reading, Verdict
from spc.station.fold import step
from spc.station.state import StreamState
from spc.station.take_plan import BEFORE_ALL
from spc.wear.belief import GAIN, RATE, WEAR, WearBelief

START = datetime(2026, 6, 1, 6, tzinfo=UTC)
PLAN = f"""
[part]
id = "K-5"
[[machine]]
id = "M1"
slide_step_mm = 0.001
largest_move_mm = 0.020
[die_set]
correction_travel = 0.060
{HOURLY}{OVER_PIN_SIZE}limits = "with_die_wear"
[[characteristic]]
name = "look"
kind = "visual"
answers = ["ok", "chip mark"]
"""


@dataclass
class KnownShop:
    """Hour by hour: the truth as it stands now makes a check, the station judges it, the operator does as told.

    Amounts are µm of over-pin minus target, the growth per 1,000 pieces; `gain` is the machine's own, whatever
    the plan says. Change any of them between two hours and nobody logs it.
    """

    seed: int
    plan: str = PLAN
    gain: float = 0.8
    sigma_um: float = 2.2
    growth_um: float = 1.2
    n: int = 5
    pieces: int = 300
    start_um: float = -2.0
    batch_um: float = 0.0
    step_um: float = 0.0
    gauge_um: float = 0.0
    wear_um: float = 0.0
    slide_um: float = 0.0
    hidden_slide_um: float = 0.0
    age: int = 0
    counter: int = 0
    follows: bool = True
    answers: tuple[str, ...] = ()
    now: datetime = START
    state: StreamState = field(default_factory=lambda: StreamState("K-5"))
    facts: list[Fact] = field(default_factory=list)
    verdicts: list[Verdict] = field(default_factory=list)
    levels_um: list[float] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.dice = np.random.default_rng(self.seed)
        self.take(PlanTaken(BEFORE_ALL, "K-5", self.plan))
        self.log("die_set_mounted", "D-1")
        self.log("penetration", "12.000")

    @property
    def level_um(self) -> float:
        """True size minus target, without the gauge."""
        moved = self.slide_um + self.hidden_slide_um
        return self.start_um + self.wear_um + self.batch_um + self.step_um - self.gain * moved

    @property
    def belief(self) -> WearBelief:
        return self.state.die_sets["D-1"].beliefs["over_pin"]

    def off_sds(self, i: int) -> float:
        """How many of its standard deviations what is believed of wear, growth or gain lies off the truth."""
        truth = {WEAR: self.wear_um, RATE: self.growth_um, GAIN: self.gain}[i]
        return abs(self.belief.mean[i] - truth) / max(self.belief.var(i) ** 0.5, 1e-9)

    def is_believed(self, sds: float = 2.0) -> bool:
        """Whether wear, growth and gain all lie within so many standard deviations of the truth."""
        return max(map(self.off_sds, (WEAR, RATE, GAIN))) < sds

    def hours(self, count: int) -> list[Verdict]:
        """So many hourly checks; the operator makes the move that is advised."""
        return [self.hour() for _ in range(count)]

    def hour(self) -> Verdict:
        self.now += timedelta(hours=1)
        self.age += self.pieces
        self.counter += self.pieces
        if self.verdicts:  # wear counts from the first check, as in the model
            self.wear_um += self.growth_um * self.pieces / 1000.0
        return self.gauged()

    def gauged(self) -> Verdict:
        """A check of the pieces as they come now."""
        self.levels_um.append(self.level_um)
        off_um = self.level_um + self.gauge_um + self.sigma_um * self.dice.standard_normal(self.n)
        readings = [
            Reading("over_pin", i + 1, "", Decimal(f"{31.250 + each / 1000.0:.4f}"), unit="mm")
            for i, each in enumerate(off_um)
        ]
        readings += [Reading("look", i + 1, "", None, answer) for i, answer in enumerate(self.answers)]
        verdict = self.take(CheckGauged(self.now, "M1", "K-5", tuple(readings), self.counter))
        assert verdict is not None
        self.verdicts.append(verdict)
        if self.follows and verdict.correction is not None:
            self.move(round(1000.0 * float(verdict.correction.penetration_mm)))
        return verdict

    def move(self, um: int) -> None:
        """Set the slide deeper by so much, two minutes from now, and log it."""
        self.slide_um += um
        self.log("penetration", f"{12.0 + self.slide_um / 1000.0:.3f}", minutes=2)

    def log(self, kind: str, value: str, note: str = "", *, minutes: int = 0) -> None:
        self.take(EventLogged(self.now + timedelta(minutes=minutes), "M1", "K-5", kind, value, note))

    def take(self, fact: Fact) -> Verdict | None:
        self.facts.append(fact)
        self.state, verdict = step(self.state, fact)
        return verdict


def kinds(verdicts: list[Verdict]) -> list[str]:
    """Kinds of all signals, in order."""
    return [each.kind for verdict in verdicts for each in verdict.signals]


def causes(verdict: Verdict) -> list[str]:
    """The likeliest cause of each signal that names any."""
    return [each.explanations[0].cause for each in verdict.signals if each.explanations]
