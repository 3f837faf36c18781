"""One check at the machine: which pieces are gauged, what the gauge shows, what is typed, what is decided."""

import math
from functools import partial

from spc.simulator.cell import Feature
from spc.simulator.dice import Dice
from spc.simulator.history import ReadingRow, SizeTruth
from spc.simulator.mistakes import mistyped
from spc.simulator.policy import Decision, SizeSeen
from spc.simulator.running import Running

__all__ = ["take_check"]

BETWEEN_CHECKS_UM = 0.4
SHORT_PURPOSES = ("setup", "after_move", "confirm", "last_off")
SHORT_PIECES = 2
FLAKES_SHARE = 0.06
DECIDED = ("hourly", "first_off", "setup", "after_move")


def take_check(run: Running, purpose: str) -> None:
    """Gauge the pieces that have just come off, write them down, and let the people answer."""
    if run.idle or run.last_check == run.now:
        return
    seen = []
    for feature in _due(run, purpose):
        values = _gauge(run, feature, purpose, run.dice("check", feature.name, run.now.isoformat()))
        _write(run, feature, purpose, values)
        if feature.nature == "size":
            seen.append(_seen(run, feature, values))
            run.sizes.append(_truth(run, feature, purpose))
    if run.dies.first_depth_um is None:
        run.dies.first_depth_um = run.dies.depth_um
        run.dies.settle_end(run.machine)
    run.last_check = run.now
    if purpose == "first_off":
        run.first_off_due = None
    _answer(run, purpose, tuple(seen))


def _due(run: Running, purpose: str) -> list[Feature]:
    first_of_shift = run.shift_seen != run.shift() and purpose in ("hourly", "first_off")
    if first_of_shift:
        run.shift_seen = run.shift()
    due = []
    for feature in run.part.features:
        if feature.nature in ("size", "look"):
            wanted = True
        elif feature.at:
            at_shift = first_of_shift and "shift" in feature.at
            wanted = at_shift or purpose == "confirm" or purpose in feature.at
        else:
            wanted = purpose not in ("setup", "after_move", "last_off")
        if wanted:
            due.append(feature)
    return due


def _gauge(run: Running, feature: Feature, purpose: str, dice: Dice) -> list[str]:
    if feature.nature == "look":
        return [_look(run, purpose, dice)]
    pieces = feature.pieces if purpose not in SHORT_PURPOSES else min(feature.pieces, SHORT_PIECES)
    shared = dice.normal(0.0, BETWEEN_CHECKS_UM)
    values = []
    for _ in range(pieces):
        true = _piece_um(run, feature, dice, shared)
        shown = true + dice.normal(0.0, feature.gauge_sd_um)
        if feature.nature == "size":
            shown += run.gauge_zero_um(feature)
        values.append(_printed(feature, shown))
    return values


def _piece_um(run: Running, feature: Feature, dice: Dice, shared: float) -> float:
    die = run.dies
    spread = die.spread() * run.spread_factor
    if feature.nature == "size":
        return run.true_um(feature) + shared + dice.normal(0.0, feature.sigma_um * spread)
    if feature.nature in ("lead", "pitch"):
        chip = 9.0 if die.chipped and feature.nature == "pitch" else 0.0
        return die.lead_um(feature) + chip + dice.normal(0.0, feature.sigma_um)
    if feature.nature == "direction":
        return feature.base_um + dice.normal(0.0, feature.sigma_um)
    length = math.sqrt(-2.0 * math.log(dice.uniform()))
    return (feature.base_um + feature.sigma_um * length) * (2.0 if die.chipped else 1.0)


def _printed(feature: Feature, um: float) -> str:
    steps = round(um / feature.resolution_um)
    aim_steps = round(feature.aim * feature.um_per_unit / feature.resolution_um)
    step_in_unit = feature.resolution_um / feature.um_per_unit
    decimals = max(0, math.ceil(-math.log10(step_in_unit) - 1e-9))
    value = (aim_steps + steps) * step_in_unit
    if feature.nature == "magnitude":
        value = abs(value)
    if feature.nature == "direction":
        value %= 360.0
    return f"{value + 0.0:.{decimals}f}"


def _look(run: Running, purpose: str, dice: Dice) -> str:
    die = run.dies
    if die.chipped:
        die.chip_seen += purpose in ("hourly", "first_off")
        return "chip mark" if die.chip_seen > 1 else "ok"
    nearly_done = die.worked > 0.97 * die.end_worked
    return "flakes" if nearly_done and purpose == "hourly" and dice.uniform() < FLAKES_SHARE else "ok"


def _write(run: Running, feature: Feature, purpose: str, values: list[str]) -> None:
    typed = mistyped(run, feature, purpose, values)
    for piece, value in enumerate(typed, start=1):
        run.readings.append(
            ReadingRow(
                run.now,
                run.machine.id,
                run.part.id,
                feature.name,
                piece,
                value,
                feature.unit,
                math.floor(run.dies.counter),
                run.operator,
                purpose,
            )
        )


def _seen(run: Running, feature: Feature, values: list[str]) -> SizeSeen:
    gain = feature.gain_guess * run.machine.travel_factor
    return SizeSeen(feature.name, feature.aim, gain, tuple(float(value) for value in values))


def _truth(run: Running, feature: Feature, purpose: str) -> SizeTruth:
    return SizeTruth(
        run.now,
        run.machine.id,
        run.part.id,
        run.dies.die_set,
        math.floor(run.dies.counter),
        math.floor(run.dies.age),
        purpose,
        feature.name,
        run.true_um(feature),
        run.dies.wear_um(feature.name),
        run.batches[run.part.id].step_um,
        run.warm_um(),
        run.struck_um(),
        run.gauge_zero_um(feature),
        run.slide_mm,
    )


def _answer(run: Running, purpose: str, seen: tuple[SizeSeen, ...]) -> None:
    die = run.dies
    if purpose == "confirm":
        return
    if die.chip_seen > 1:
        run.after(6, partial(take_check, purpose="confirm"))
        run.change_wanted = "chipped"
        return
    measured = {row.characteristic for row in run.readings[run.told_rows :] if row.time == run.now}
    known = die.limit == "travel" or die.limited_by in measured
    if purpose == "hourly" and die.worked >= die.end_worked and known:
        run.change_wanted = "worn"
        return
    if purpose in DECIDED:
        _decide(run, purpose, seen)


def _decide(run: Running, purpose: str, seen: tuple[SizeSeen, ...]) -> None:
    die, machine = run.dies, run.machine
    rows, events = tuple(run.readings[run.told_rows :]), tuple(run.events[run.told_events :])
    run.told_rows, run.told_events = len(run.readings), len(run.events)
    wish = run.policy(
        Decision(
            run.now,
            machine.id,
            run.part.id,
            die.die_set,
            math.floor(die.counter),
            math.floor(die.age),
            purpose,
            run.operator,
            seen,
            rows,
            events,
            run.slide_mm,
            machine.slide_step_mm,
            machine.largest_move_mm,
        )
    )
    most = math.floor(machine.largest_move_mm / machine.slide_step_mm + 1e-9)
    steps = max(-most, min(most, round(wish / machine.slide_step_mm)))
    if steps:
        run.after(2, partial(_move, steps=steps, check_after=purpose in ("hourly", "first_off")))


def _move(run: Running, steps: int, *, check_after: bool) -> None:
    if run.idle:
        return
    before = run.slide_mm
    run.slide_mm = round((round(before / run.machine.slide_step_mm) + steps) * run.machine.slide_step_mm, 6)
    settling = run.dice("move", run.now.isoformat()).normal(0.0, 0.3)
    run.dies.depth_um += 1000.0 * (run.slide_mm - before) * run.machine.travel_factor + settling
    run.log("penetration", f"{run.slide_mm:.3f}")
    if check_after:
        run.after(5, partial(take_check, purpose="after_move"))
