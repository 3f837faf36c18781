"""Four small machines beside the demo shop: one day each, on the last day of its month."""

from dataclasses import replace

from spc.simulator.cell import Machine, Shop
from spc.simulator.demo import demo_policy, demo_shop
from spc.simulator.history import History
from spc.simulator.simulate import simulate
from spc.simulator.small_parts import SMALL_PARTS

__all__ = ["demo_history", "demo_part_ids", "small_shop"]

MACHINES = (
    Machine("R4", 0.001, "one", "deeper_is_larger", 0.020, ("DW", "EP", "IK"), 4.0, 12.0, 16.200),
    Machine("R5", 0.001, "two", "deeper_is_larger", 0.015, ("DW", "EP", "IK"), 4.0, 12.0, 9.400),
    Machine("R6", 0.002, "one", "deeper_is_smaller", 0.020, ("MU", "OZ", "YF"), 3.0, 14.0, -27.100),
    Machine("R7", 0.001, "one", "deeper_is_larger", 0.015, ("MU", "OZ", "YF"), 3.0, 10.0, 31.800),
)


def small_shop(days: int = 20, parts: tuple[str, ...] = ()) -> Shop:
    """Build the shop of the four small plans, which name their geometry.

    Parameters
    ----------
    days : int
        Working days of the demo month; these machines run on the last of them.
    parts : tuple of str
        Part ids to keep; empty keeps all four.

    Examples
    --------
    >>> [part.id for part in small_shop().parts]
    ['PW-22', 'AS-16', 'GT-34', 'ST-05']
    """
    month = demo_shop(days)
    kept = tuple(part for part in SMALL_PARTS if not parts or part.id in parts)
    return replace(month, start=month.day(days), days=1, machines=MACHINES, parts=kept, stories=())


def demo_part_ids() -> tuple[str, ...]:
    """Return the ids of all invented parts: those of the month, then the small ones."""
    return tuple(part.id for part in (*demo_shop().parts, *SMALL_PARTS))


def demo_history(seed: int, days: int = 20, parts: tuple[str, ...] = ()) -> History:
    """Run the demo month and, on its last day, the small machines beside it.

    Parameters
    ----------
    seed : int
        At least 0.
    days : int
        Working days, at least 1.
    parts : tuple of str
        Part ids to keep; empty keeps all.

    Notes
    -----
    No row of the month depends on the small machines: dice are named by machine.
    """
    month, small = demo_shop(days, parts), small_shop(days, parts)
    return _beside(simulate(month, demo_policy(month), seed), simulate(small, seed=seed))


def _beside(month: History, small: History) -> History:
    """Join two histories; at equal times the rows of the month stand first."""
    shop = replace(
        month.shop,
        machines=month.shop.machines + small.shop.machines,
        parts=month.shop.parts + small.shop.parts,
    )
    return replace(
        month,
        shop=shop,
        readings=tuple(sorted(month.readings + small.readings, key=lambda row: row.time)),
        events=tuple(sorted(month.events + small.events, key=lambda row: row.time)),
        sizes=tuple(sorted(month.sizes + small.sizes, key=lambda row: row.time)),
        lives=month.lives + small.lives,
        batches=month.batches + small.batches,
    )
