"""Die sets in a review: which were on, how old they were, why they came off, and what they had used up."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from spc.shop import EventLogged, Verdict
from spc.station.review_period import Stretch, includes
from spc.station.review_records import DieSetUse

__all__ = ["die_sets_used"]

_LIFE_ENDS = ("worn", "chipped")


@dataclass(frozen=True, slots=True)
class _Mounting:
    die_set: str
    start: datetime
    end: datetime | None
    reason: str
    counter: int | None


def die_sets_used(
    events: Sequence[EventLogged], checks: Sequence[Verdict], part: str, stretches: tuple[Stretch, ...]
) -> tuple[DieSetUse, ...]:
    """Return every mounting that reaches into the period, in order.

    Parameters
    ----------
    events : sequence of EventLogged
        Everything ever logged on the machine, of every part, in order.
    checks : sequence of Verdict
        Of this part on it, in order.
    """
    mountings = _mountings(events, part)
    if not mountings:
        inside = [each for each in checks if includes(stretches, each.time)]
        return (_use(None, inside, stretches),) if inside else ()
    used = []
    for each in mountings:
        if not any(each.start < end and (each.end is None or each.end > start) for start, end in stretches):
            continue
        inside = [
            check for check in checks if _is_of(check, each) and includes(stretches, check.time)
        ]  # at the moment of a change a check belongs to the new set
        used.append(_use(each, inside, stretches))
    return tuple(used)


def _mountings(events: Sequence[EventLogged], part: str) -> list[_Mounting]:
    found: list[_Mounting] = []
    on: EventLogged | None = None
    for event in events:
        if event.event not in ("die_set_mounted", "die_set_removed"):
            continue
        if on is not None:
            reason = event.value if event.event == "die_set_removed" else "other"
            counter = event.counter if event.event == "die_set_removed" else None
            found.append(_Mounting(on.value, on.time, event.time, reason, counter))
        is_ours = event.event == "die_set_mounted" and event.part in ("", part)
        on = event if is_ours else None
    if on is not None:
        found.append(_Mounting(on.value, on.time, None, "", None))
    return found


def _is_of(check: Verdict, mounting: _Mounting) -> bool:
    return mounting.start <= check.time and (mounting.end is None or check.time < mounting.end)


def _use(mounting: _Mounting | None, checks: Sequence[Verdict], stretches: tuple[Stretch, ...]) -> DieSetUse:
    ages = [each.age for each in checks if each.age is not None]
    life = next((each.die_life for each in reversed(checks) if each.die_life is not None), None)
    ended = mounting is not None and mounting.end is not None and includes(stretches, mounting.end)
    last = ages[-1] if ages else None
    if ended and mounting is not None and mounting.counter is not None:
        last = _age_at(mounting.counter, checks) or last
    return DieSetUse(
        die_set=None if mounting is None else mounting.die_set,
        mounted=None if mounting is None else mounting.start,
        removed=mounting.end if mounting is not None and ended else None,
        removed_for=mounting.reason if mounting is not None and ended else "",
        life_ended=ended and mounting is not None and mounting.reason in _LIFE_ENDS,
        checks=len(checks),
        age_first=ages[0] if ages else None,
        age_last=last,
        limited_by="" if life is None else life.limited_by,
        wear=None if life is None else life.wear_um_per_1000,
        infeed_used_mm=None if life is None else life.correction_used_mm,
        infeed_allowed_mm=None if life is None else life.correction_travel_mm,
    )


def _age_at(counter: int, checks: Sequence[Verdict]) -> int | None:
    """Age when it came off: pieces before this mounting, and the counter at the removal."""
    for check in reversed(checks):
        if check.age is not None and check.counter is not None:
            return check.age - check.counter + counter
    return None
