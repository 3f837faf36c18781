"""Run a whole make-believe shop and hand over its history."""

from spc.simulator.cell import Shop
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
    return History(
        shop,
        seed,
        tuple(sorted((row for run in runs for row in run.readings), key=lambda row: row.time)),
        tuple(sorted((row for run in runs for row in run.events), key=lambda row: row.time)),
        tuple(sorted((row for run in runs for row in run.sizes), key=lambda row: row.time)),
        tuple(life for run in runs for life in run.ended + _unfinished(run)),
        tuple(sorted((story for run in runs for story in run.stories), key=lambda story: story.letter)),
        tuple(batch for run in runs for batch in run.batch_truth),
    )


def _unfinished(run: Running) -> list[LifeTruth]:
    waiting = [*run.rack.values()] + ([run.die] if run.die is not None else [])
    return [life_truth(run, die) for die in waiting]
