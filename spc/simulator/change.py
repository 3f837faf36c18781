"""Dies off, dies on: removals with their reason, regrinds, mountings, and the setting that goes with them."""

import math
from datetime import timedelta
from functools import partial

from spc.simulator.cell import Part
from spc.simulator.checks import take_check
from spc.simulator.die import DieLife, draw_life
from spc.simulator.history import LifeTruth
from spc.simulator.running import Running

__all__ = ["begin_change", "expect_first_off", "life_truth", "master_gauges", "mount", "stop"]

CHANGE_MINUTES = 55
LONG_STOP_MINUTES = 30
SET_UP_MINUTES = 6
FIRST_OFF_MINUTES = 16
NEARLY_DONE = 0.95


def begin_change(run: Running, reason: str, next_part: Part | None = None) -> None:
    """Take the dies off and book the mounting of the next ones.

    Parameters
    ----------
    run : Running
        The machine, with dies in.
    reason : str
        `worn`, `chipped`, `planned` or `part_change`.
    next_part : Part, optional
        Default: the same part goes on.
    """
    die, part = run.die, run.part
    if die is None:
        return
    if reason == "part_change" and die.worked > NEARLY_DONE * die.end_worked:
        reason = "worn" if die.worked >= die.end_worked else "planned"
    if reason == "chipped":
        run.log("held", str(math.floor(die.counter)), "all pieces of this mounting, to be sorted by box")
    run.log("die_set_removed", reason)
    die.removed.append(run.now)
    if reason == "part_change":
        run.rack[part.id] = die
    else:
        die.reason = reason
        run.ended.append(life_truth(run, die))
    run.die, run.changing = None, True
    stop(run, CHANGE_MINUTES, "die change")
    run.part = next_part or part
    if reason == "chipped":
        run.after(30, lambda now: now.log("scrapped", "38", "sorted out after the chip"))
    run.after(CHANGE_MINUTES - 3, mount)


def mount(run: Running) -> None:
    """Put in the set that waits in the rack, or the next new or reground one, and set the slide."""
    part = run.part
    die = run.rack.pop(part.id, None)
    if die is None:
        die = _next_life(run, part)
    run.die, run.changing = die, False
    die.counter = 0.0
    die.mounted.append(run.now)
    run.log("die_set_mounted", die.die_set)
    if part.id not in run.batches:
        run.load_batch()
    dice = run.dice("mount", die.die_set, len(die.mounted), die.life)
    lead = part.sizes[0].name
    off_target = dice.normal(0.0, 3.0)
    level = die.offset_um[lead] + die.wear_um(lead) + run.batches[part.id].step_um
    die.depth_um = (level - off_target) / die.gain[lead]
    steps = round((run.machine.slide_zero_mm + dice.normal(0.0, 0.06)) / run.machine.slide_step_mm)
    run.slide_mm = round(steps * run.machine.slide_step_mm, 6)
    run.log("penetration", f"{run.slide_mm:.3f}", "set up with the dies")
    if part.dwell_s:
        run.log("setting", f"{part.dwell_s:.1f}", "dwell_s")
    master_gauges(run)
    run.after(SET_UP_MINUTES, partial(take_check, purpose="setup"))
    expect_first_off(run, FIRST_OFF_MINUTES)


def expect_first_off(run: Running, minutes: float) -> None:
    """Book the first-off check that follows a die change or a long stop."""
    run.first_off_due = run.now + timedelta(minutes=minutes)
    run.at(run.first_off_due, partial(take_check, purpose="first_off"))


def _next_life(run: Running, part: Part) -> DieLife:
    turn = run.mountings.get(part.id, 0)
    run.mountings[part.id] = turn + 1
    life, place = divmod(turn, len(part.die_sets))
    die_set = part.die_sets[place]
    if life:
        run.log("die_set_reground", die_set, "back from the grinding shop")
    return draw_life(part, die_set, life + 1, run.dice("die", die_set, life))


def life_truth(run: Running, die: DieLife) -> LifeTruth:
    """Sum up a life, finished or not."""
    end = die.expected_end_age()
    return LifeTruth(
        run.machine.id,
        die.part.id,
        die.die_set,
        die.life,
        tuple(die.mounted),
        tuple(die.removed),
        die.reason,
        math.floor(die.age),
        math.floor(end) if math.isfinite(end) else -1,
        die.limited_by,
        die.limit,
        {name: die.wear_um(name) for name in die.rate},
        dict(die.rate),
        {name: gain * run.machine.travel_factor for name, gain in die.gain.items()},
    )


def stop(run: Running, minutes: int, note: str) -> None:
    """Stop the machine; it starts again by itself, colder the longer it stood."""
    run.log("machine_stopped", str(minutes), note, plant=True)
    run.stopped_until = max(run.stopped_until, run.now + timedelta(minutes=minutes))
    run.at(run.stopped_until, partial(_start_again, cold_minutes=minutes))


def _start_again(run: Running, cold_minutes: int) -> None:
    if run.now < run.stopped_until or run.die is None:
        return
    run.restart(cold_minutes)
    if cold_minutes > LONG_STOP_MINUTES and run.first_off_due is None:
        expect_first_off(run, 8)


def master_gauges(run: Running) -> None:
    """Set every size gauge of the part on its master and log what was found."""
    for place, feature in enumerate(run.part.sizes):
        dice = run.dice("master", feature.name, run.now.isoformat())
        found = run.gauge_zero_um(feature) + dice.normal(0.0, 0.1)
        value = round(found, 1) + 0.0
        run.after(place, partial(_log_mastering, value=f"{value:.1f}", name=feature.name))
        run.gauge_um[feature.name] = dice.normal(0.0, 0.1)
        run.gauge_creep[feature.name] = (run.now, dice.normal(0.0, 0.5))


def _log_mastering(run: Running, value: str, name: str) -> None:
    run.log("gauge_mastered", value, name)
