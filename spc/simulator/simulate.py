"""Run a whole make-believe shop and hand over its history."""

from dataclasses import replace
from datetime import datetime

from spc.simulator.cell import Shop, Story
from spc.simulator.change import life_truth
from spc.simulator.day import run_machine
from spc.simulator.history import History, LifeTruth
from spc.simulator.policy import Policy, hand_rule
from spc.simulator.running import Running

__all__ = ["simulate"]


def simulate(shop: Shop, policy: Policy = hand_rule, seed: int = 20260302) -> History:
    """Run every machine of a shop and collect its files and the truth.

    Parameters
    ----------
    shop : Shop
        Machines, parts, calendar and stories, for example `demo_shop()`.
    policy : Policy
        Who moves the slide; `hand_rule` by default.
    seed : int
        At least 0; the same shop, policy and seed give the same history on any machine.

    Returns
    -------
    History
        Readings and events in time order, and what was true behind them.

    Notes
    -----
    Die sets, bar batches and the scatter of a check are drawn by name, so two policies meet the same dies,
    bars and pieces; only what follows from their moves differs.
    """
    runs = [
        run_machine(shop, machine, policy, seed) for machine in shop.machines if shop.parts_on(machine.id)
    ]
    lives = tuple(life for run in runs for life in run.ended + _unfinished(run))
    return History(
        shop,
        seed,
        tuple(sorted((row for run in runs for row in run.readings), key=lambda row: row.time)),
        tuple(sorted((row for run in runs for row in run.events), key=lambda row: row.time)),
        tuple(sorted((row for run in runs for row in run.sizes), key=lambda row: row.time)),
        lives,
        tuple(sorted((_told(story, lives) for run in runs for story in run.stories), key=_by_letter)),
        tuple(batch for run in runs for batch in run.batch_truth),
    )


def _by_letter(story: Story) -> tuple[str, datetime]:
    return story.letter, story.begin


def _told(story: Story, lives: tuple[LifeTruth, ...]) -> Story:
    if story.act != "first_life":
        return story
    life = next(life for life in lives if life.part == story.part)
    told: dict[str, float | str] = {
        "die_set": life.die_set,
        "pieces": life.age,
        "true_wear_um": round(life.wear_um[story.characteristic], 1),
    }
    end = life.removed[-1] if life.reason else story.end
    return replace(story, end=end, sizes={**story.sizes, **told})


def _unfinished(run: Running) -> list[LifeTruth]:
    waiting = [*run.rack.values()] + ([run.die] if run.die is not None else [])
    return [life_truth(run, die) for die in waiting]
