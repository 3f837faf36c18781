"""Fleets of invented shops, and what the station said to their histories check by check."""

import argparse
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import timedelta

from spc.intake import read_plan
from spc.shop import Verdict
from spc.station.replay import replay
from tests.benchmarks.floor import FIRST_MORNING, PART, Book, Desk, Drawing, Mounting, Nature
from tests.benchmarks.gamma_shop import GammaShop
from tests.benchmarks.regime_shop import RegimeShop
from tests.benchmarks.truth import Change

NATURES: dict[str, type[GammaShop] | type[RegimeShop]] = {"gamma": GammaShop, "regime": RegimeShop}

PLAN = """
[part]
id = "{part}"
description = "benchmark shaft"
[plant]
zone = "UTC"
shifts = ["06:00", "14:00", "22:00"]
{machines}
[die_set]
correction_travel = {travel}
[check]
subgroup_size = {n}
interval_minutes = {interval}
[[characteristic]]
name = "over_pin"
kind = "over_pin_diameter"
unit = "mm"
nominal = {target}
lower = {lower}
upper = {upper}
set_by = "penetration"
penetration_gain = {gain}
limits = "with_die_wear"
[[characteristic]]
name = "lead_error"
kind = "lead_deviation"
unit = "mm"
nominal = 0.0
lower = -{lead}
upper = {lead}
wears_with_die = true
subgroup_size = 1
[[characteristic]]
name = "runout"
kind = "runout"
unit = "mm"
nominal = 0.0
upper = 0.040
subgroup_size = {n}
"""
Mount = Callable[[Nature, Desk, Book, str, tuple[Change, ...]], Mounting]
MACHINE = '[[machine]]\nid = "{name}"\nslide_step_mm = 0.001\nlargest_move_mm = 0.020'


@dataclass(frozen=True, slots=True)
class Story:
    """A fleet's record, its truth, and the verdict of every check by die set, oldest first."""

    drawing: Drawing
    book: Book
    verdicts: dict[str, list[Verdict]]


def live(
    nature: Nature, machines: int = 8, sets: int = 12, changes: Sequence[Change] = (), mount: Mount = Mounting
) -> Book:
    """Run a shop: `sets` die sets on each of `machines`, one after the other; `mount` makes each mounting."""
    book = Book()
    for i in range(machines):
        name = f"R{i + 1}"
        machine = nature.machine()
        start = FIRST_MORNING + timedelta(minutes=int(nature.dice.integers(0, 55)))
        desk = Desk(name, machine, start, machine.slide_start_mm)
        for k in range(sets):
            here = tuple(each for each in changes if each.in_set == k)
            mount(nature, desk, book, f"{name}-D{k + 1:02d}", here).run()
    return book


def told(
    nature: Nature, machines: int = 8, sets: int = 12, changes: Sequence[Change] = (), mount: Mount = Mounting
) -> Story:
    """Run a shop and let the station judge every check as if live."""
    return judged(nature.drawing, live(nature, machines, sets, changes, mount), machines)


def judged(drawing: Drawing, book: Book, machines: int = 8) -> Story:
    """Let the station judge a record check by check."""
    verdicts: dict[str, list[Verdict]] = defaultdict(list)
    for verdict in replay([read_plan(plan_text(drawing, machines))], book.checks, book.events):
        verdicts[verdict.die_set or ""].append(verdict)
    return Story(drawing, book, dict(verdicts))


def plan_text(drawing: Drawing, machines: int) -> str:
    """Write the plan of the part."""
    target, half = float(drawing.target_mm), drawing.half_tolerance_um / 1000.0
    return PLAN.format(
        part=PART,
        machines="\n".join(MACHINE.format(name=f"R{i + 1}") for i in range(machines)),
        travel=drawing.travel_um / 1000.0,
        n=drawing.pieces,
        interval=drawing.interval_minutes,
        target=drawing.target_mm,
        lower=f"{target - half:.4f}",
        upper=f"{target + half:.4f}",
        gain=drawing.plan_gain,
        lead=f"{drawing.lead_limit_um / 1000.0:.4f}",
    )


def shop_arguments(said: str | None, **seeds: Sequence[int]) -> argparse.ArgumentParser:
    """Let a benchmark be asked for shops and, under each of these names, for seeds; of two kinds one may be none."""
    parser = argparse.ArgumentParser(description=said)
    parser.add_argument("--nature", choices=sorted(NATURES), nargs="+", default=sorted(NATURES))
    many = "*" if len(seeds) > 1 else "+"
    for name, usual in seeds.items():
        parser.add_argument(f"--{name.replace('_', '-')}", type=int, nargs=many, default=list(usual))
    return parser
