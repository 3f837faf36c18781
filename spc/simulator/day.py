"""The days of one machine: shifts, hourly checks, stops, weekends and campaigns, in time order."""

import heapq
from collections.abc import Iterator
from datetime import datetime, timedelta
from functools import partial
from zoneinfo import ZoneInfo

from spc.simulator.cell import Machine, Part, Shop
from spc.simulator.change import begin_change, master_gauges, mount, stop
from spc.simulator.checks import take_check
from spc.simulator.policy import Policy
from spc.simulator.running import LONG_AGO, Running
from spc.simulator.stories import plant_story

__all__ = ["run_machine"]

FIRST_CHECK_MINUTE = 10
SHIFT_HOURS = 8
MISSED_SHARE, LATE_SHARE = 0.012, 0.022
STOPS_PER_SHIFT = 0.45
LONG_STOP_SHARE = 0.2
CLEAR_OF_WEEKEND = timedelta(minutes=90)
SHORTEST_GAP = timedelta(minutes=6)
JUST_MASTERED = timedelta(minutes=30)
POSTPONED_AT_MOST = timedelta(minutes=30)


def run_machine(shop: Shop, machine: Machine, policy: Policy, seed: int) -> Running:
    """Run one machine through all days of the shop.

    Parameters
    ----------
    shop : Shop
        Calendar, parts and stories.
    machine : Machine
        One of the shop's machines with at least one part.
    policy : Policy
        Who moves the slide.
    seed : int
        At least 0.

    Returns
    -------
    Running
        The machine at the end, with everything that was written down.
    """
    run = Running(shop, machine, policy, seed, shop.start, shop.parts_on(machine.id)[0])
    run.at(shop.start, partial(_open_order, part=run.part))
    run.at(shop.start, mount)
    for story in shop.stories:
        if story.machine == machine.id:
            plant_story(run, story)
    for number in range(1, shop.days + 1):
        _lay_out_day(run, number)
    _lay_out_campaigns(run)
    end = shop.day(shop.days, hour=30)
    while run.agenda and run.agenda[0][0] < end:
        time, _, action = heapq.heappop(run.agenda)
        run.advance(time)
        action(run)
        if run.change_wanted:
            _book_change(run)
    run.advance(end)
    return run


def _lay_out_day(run: Running, number: int) -> None:
    shop = run.shop
    for shift in range(3):
        start = shop.day(number, hour=6 + SHIFT_HOURS * shift)
        run.at(start + timedelta(minutes=4), _start_shift)
        for time in _check_times(run, start):
            run.at(time, _hourly)
        _lay_out_stop(run, start)
    begin, back = shop.day(number, hour=30), shop.day(number + 1)
    if begin != back and number < shop.days:
        run.at(begin, partial(stop, minutes=_minutes_between(shop, begin, back), note="weekend"))


def _check_times(run: Running, start: datetime) -> Iterator[datetime]:
    for hour in range(SHIFT_HOURS):
        due = start + timedelta(hours=hour, minutes=FIRST_CHECK_MINUTE)
        dice = run.dice("due", due.isoformat())
        chance, jitter = dice.uniform(), round(dice.between(-3.4, 3.4))
        if chance < MISSED_SHARE and hour > 0:
            continue
        late = round(dice.between(12, 22)) if chance < MISSED_SHARE + LATE_SHARE and hour > 0 else 0
        yield due + timedelta(minutes=late or jitter)


def _lay_out_stop(run: Running, start: datetime) -> None:
    dice = run.dice("stop", start.isoformat())
    if dice.uniform() > STOPS_PER_SHIFT:
        return
    time = start + timedelta(minutes=round(dice.between(30, 60 * SHIFT_HOURS - 91)))
    long = dice.uniform() < LONG_STOP_SHARE
    minutes = round(dice.between(35, 75) if long else dice.between(5, 25))
    causes = ("hydraulic unit", "no blanks") if long else ("feeder jam", "oil filter", "chute full", "break")
    run.at(time, partial(_short_stop, minutes=minutes, note=dice.pick(causes)))


def _short_stop(run: Running, minutes: int, note: str) -> None:
    if not run.idle and run.first_off_due is None:
        stop(run, minutes, note)


def _minutes_between(shop: Shop, begin: datetime, end: datetime) -> int:
    zone = ZoneInfo(shop.zone)
    seconds = end.replace(tzinfo=zone).timestamp() - begin.replace(tzinfo=zone).timestamp()
    return round(seconds / 60.0)


def _start_shift(run: Running) -> None:
    since, _ = run.gauge_creep.get(run.part.sizes[0].name, (LONG_AGO, 0.0))
    if not run.idle and run.now - since > JUST_MASTERED:
        master_gauges(run)


def _hourly(run: Running) -> None:
    if run.idle:
        wait = run.stopped_until - run.now
        if run.die is not None and timedelta(0) < wait <= POSTPONED_AT_MOST:
            run.at(run.stopped_until + timedelta(minutes=3), _hourly)
        return
    if run.first_off_due is not None and run.now < run.first_off_due:
        return
    if run.now - run.last_check >= SHORTEST_GAP:
        take_check(run, "hourly" if run.first_off_due is None else "first_off")


def _book_change(run: Running) -> None:
    reason, run.change_wanted = run.change_wanted, ""
    if run.changing:
        return
    run.changing = True
    weekend = _next_weekend(run.now)
    if reason == "worn" and weekend - run.now < CLEAR_OF_WEEKEND:
        run.at(weekend + timedelta(days=2, minutes=20), partial(begin_change, reason=reason))
    else:
        run.after(9 if reason == "chipped" else 3, partial(begin_change, reason=reason))


def _next_weekend(now: datetime) -> datetime:
    saturday = now.date() + timedelta(days=(5 - now.weekday()) % 7)
    weekend = datetime.combine(saturday, datetime.min.time()).replace(hour=6)
    return weekend if weekend > now else weekend + timedelta(days=7)


def _lay_out_campaigns(run: Running) -> None:
    parts = run.shop.parts_on(run.machine.id)
    days = max(1, run.shop.campaign_hours // 24)
    if len(parts) > 1:
        for turn, number in enumerate(range(1 + days, run.shop.days + 1, days), start=1):
            run.at(run.shop.day(number, minute=2), partial(_change_part, part=parts[turn % len(parts)]))


def _change_part(run: Running, part: Part) -> None:
    if run.idle or run.changing or run.first_off_due is not None:
        run.at(max(run.stopped_until, run.now) + timedelta(minutes=30), partial(_change_part, part=part))
        return
    take_check(run, "last_off")
    run.changing = True
    run.after(2, partial(_take_over, part=part))


def _take_over(run: Running, part: Part) -> None:
    begin_change(run, "part_change", part)
    _open_order(run, part)


def _open_order(run: Running, part: Part) -> None:
    run.log("order", f"W-{run.now:%m%d}-{run.machine.id}", part.description)
