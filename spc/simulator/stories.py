"""What strikes a machine by plan: a chip, hard bars, a lost gauge zero, a cold start, and so on."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from spc.simulator.cell import Story
from spc.simulator.running import Running

__all__ = ["plant_story"]


def plant_story(run: Running, story: Story) -> None:
    """Put a story on a machine's agenda; one without an act is only told."""
    if story.act in TOLD:
        run.stories.append(story)
    elif story.act == "quiet":
        run.quiet = (story.begin, story.end)
        run.stories.append(story)
    else:
        run.at(story.begin, partial(_act, story=story))


def _act(run: Running, story: Story) -> None:
    ACTS[story.act](run, story)


def _is_on(run: Running, story: Story) -> bool:
    return run.die is not None and run.part.id == story.part


def _chip(run: Running, story: Story) -> None:
    if not _is_on(run, story):
        return
    run.dies.chipped = True
    told = {**story.sizes, "die_set": run.dies.die_set, "counter": int(run.dies.counter)}
    run.stories.append(replace(story, begin=run.now, sizes=told))


def _hard_batch(run: Running, story: Story) -> None:
    if not _is_on(run, story):
        return
    before = run.batches[run.part.id].step_um
    step = before + float(story.sizes["step_um"])
    run.load_batch(step, float(story.sizes["wear_factor"]), float(story.sizes["pieces"]))
    told = {**story.sizes, "batch": run.batches[run.part.id].id}
    run.stories.append(replace(story, begin=run.now, sizes=told))


def _gauge_zero(run: Running, story: Story) -> None:
    lost = float(story.sizes["gauge_um"])
    run.gauge_um[story.characteristic] = run.gauge_um.get(story.characteristic, 0.0) + lost
    run.stories.append(replace(story, begin=run.now))


def _typing(run: Running, story: Story) -> None:
    run.mistakes.append(story)


def _cold_start(run: Running, story: Story) -> None:
    if not _is_on(run, story):
        return
    run.heat_um = float(story.sizes["warm_um"])
    run.heat_minutes = float(story.sizes["falls_to_37_percent_min"])
    run.heat_since = run.now
    run.stories.append(story)


def _short_dwell(run: Running, story: Story) -> None:
    if not _is_on(run, story):
        return
    run.spread_factor = float(story.sizes["spread_factor"])
    run.log("setting", f"{story.sizes['dwell_s']:.1f}", "dwell_s")
    run.at(story.end, _dwell_back)
    run.stories.append(replace(story, begin=run.now))


def _dwell_back(run: Running) -> None:
    run.spread_factor = 1.0
    run.log("setting", f"{run.part.dwell_s:.1f}", "dwell_s")


def _loose_stop(run: Running, story: Story) -> None:
    run.other_um += float(story.sizes["step_um"])
    run.at(story.end, partial(_clamp_stop, story=story))
    run.stories.append(replace(story, begin=run.now))


def _clamp_stop(run: Running, story: Story) -> None:
    run.other_um -= float(story.sizes["step_um"])
    run.log("note", "slide stop found loose, clamped again", plant=True)


TOLD = ("", "first_life")
"""Stories in which nothing strikes: somebody's habit, or ordinary wear."""

ACTS: dict[str, Callable[[Running, Story], None]] = {
    "chip": _chip,
    "hard_batch": _hard_batch,
    "gauge_zero": _gauge_zero,
    "typing": _typing,
    "cold_start": _cold_start,
    "short_dwell": _short_dwell,
    "loose_stop": _loose_stop,
}
