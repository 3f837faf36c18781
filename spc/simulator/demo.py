"""The demo shop: three machines, four parts of an invented maker, ten stories."""

from dataclasses import replace
from datetime import datetime

from spc.simulator.cell import Machine, Shop
from spc.simulator.demo_parts import DEMO_PARTS
from spc.simulator.demo_stories import demo_stories
from spc.simulator.policy import Policy, by_roster, chase_last_piece, hand_rule, leave_alone

__all__ = ["demo_policy", "demo_shop"]

MACHINES = (
    Machine("R1", 0.001, "one", "deeper_is_larger", 0.020, ("AK", "LB", "SN"), 6.0, 12.0, 12.350),
    Machine("R2", 0.005, "one", "deeper_is_smaller", 0.020, ("GF", "JT", "TB"), 4.0, 12.0, -38.600),
    Machine("R3", 0.001, "one", "deeper_is_larger", 0.015, ("HM", "RO", "CV"), 5.0, 14.0, 21.700),
)


def demo_shop(days: int = 20, parts: tuple[str, ...] = ()) -> Shop:
    """Build the demo shop for whoever wants to see the station at work.

    Parameters
    ----------
    days : int
        Working days from Monday 2 March 2026, at least 1.
    parts : tuple of str
        Part ids to keep; empty keeps all four. A machine left with one part runs it all the time.

    Returns
    -------
    Shop
        Stories outside the chosen days or parts are left out.

    Examples
    --------
    >>> [part.id for part in demo_shop().parts]
    ['KS-24', 'SW-32', 'KS-38', 'BG-21']
    """
    kept = tuple(part for part in DEMO_PARTS if not parts or part.id in parts)
    shop = Shop(
        zone="Europe/Berlin",
        start=datetime(2026, 3, 2, 6),  # noqa: DTZ001  # plant time without offset, as in the files
        days=days,
        shifts=("06:00", "14:00", "22:00"),
        campaign_hours=48,
        interval_minutes=60,
        machines=MACHINES,
        parts=kept,
        stories=(),
        breaks=("09:00", "12:00", "17:00", "20:00", "01:00", "04:00"),
    )
    end, ids = shop.day(days, hour=30), {part.id for part in kept}
    told = tuple(story for story in demo_stories(shop) if story.begin < end and story.part in ids)
    return replace(shop, stories=told)


def demo_policy(shop: Shop, usual: Policy = hand_rule) -> Policy:
    """People of the demo shop: the hand rule, except where a story says who over-adjusts or stays away.

    Parameters
    ----------
    shop : Shop
        As built by `demo_shop`.
    usual : Policy
        Who decides the rest of the time.
    """
    habits = {"over_adjusting": chase_last_piece, "absent": leave_alone}
    exceptions = []
    for story in shop.stories:
        habit = str(story.sizes.get("people", ""))
        if habit in habits:
            exceptions.append((story.machine, story.begin, story.end, habits[habit]))
    return by_roster(usual, exceptions)
