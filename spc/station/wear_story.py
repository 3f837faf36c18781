"""The way of the mounted set to its likeliest end: its checks, its wear line, and earlier sets of the part."""

from spc.shop import Characteristic, Plan, Verdict
from spc.station.check_in import known_plan
from spc.station.die_words import end_words
from spc.station.kept import verdict_of
from spc.station.priors import approach_per_mm
from spc.station.refold import present_state
from spc.station.state import StreamState
from spc.station.views import EarlierLine, WearPoint, WearStory
from spc.store import Shelf
from spc.wear import PastWay, Way, gain_of
from spc.wear.stages import STAGES

__all__ = ["wear_story"]

_MOST_CHECKS = 400
_MOST_EARLIER = 8


def wear_story(shelf: Shelf, part: str, machine_id: str) -> WearStory | None:
    """Return what is drawn of the set that is on; None where no end of it is in sight.

    Raises
    ------
    Refused
        No plan of this part.

    Notes
    -----
    Earlier sets are drawn as the share of their way that they had done at each age, laid on the present set's way:
    so sets with another start or another gain can be compared.
    """
    plan, state = known_plan(shelf, part), present_state(shelf, part)
    verdicts = [verdict_of(each) for each in shelf.verdicts(part, machine_id, newest=_MOST_CHECKS)]
    on = _of_this_set(verdicts, state.machine(machine_id).die_set)
    life = on[-1].die_life if on else None
    die_set = state.mounted(machine_id)
    if life is None or die_set is None:
        return None
    memory = die_set.memories.get(life.limited_by)
    characteristic = next((each for each in plan.gauged if each.name == life.limited_by), None)
    if memory is None or memory.way is None or characteristic is None:
        return None
    end = _end_size(plan, characteristic, memory.way, gain_of(die_set.beliefs[life.limited_by]), machine_id)
    points = [point for each in on if (point := _point(each, characteristic.name)) is not None]
    if end is None or not points:
        return None
    return WearStory(
        machine=machine_id,
        part=part,
        die_set=die_set.id if state.machine(machine_id).die_set else None,
        characteristic=characteristic,
        age=on[-1].age or 0,
        points=tuple(points),
        earlier=_earlier(state, characteristic, memory.way, end),
        end_size=end,
        end_words=end_words(life),
        left=life.pieces_left,
    )


def _of_this_set(verdicts: list[Verdict], die_set: str | None) -> list[Verdict]:
    """Checks of the mounted set since it was new or reground, in order."""
    found: list[Verdict] = []
    for each in reversed(verdicts):
        if each.die_set != (die_set or None) or each.age is None:
            continue
        if found and each.age > (found[-1].age or 0):
            break
        found.append(each)
    return found[::-1]


def _point(verdict: Verdict, name: str) -> WearPoint | None:
    group = verdict.subgroup(name)
    if group is None or group.suspect or verdict.age is None:
        return None
    at_reference, line = group.mean_at_reference_setting, group.wear_line
    size = group.mean if at_reference is None else at_reference
    if line is None:
        return WearPoint(verdict.age, size, None, None, None)
    return WearPoint(verdict.age, size, line.estimate, line.low90, line.high90)


def _end_size(
    plan: Plan, characteristic: Characteristic, way: Way, gain: float, machine_id: str
) -> float | None:
    """Size, with the slide moves taken out, at which the set must come off."""
    if way.limit == "travel":
        travel_um = (plan.correction_travel_mm or 0.0) * approach_per_mm(plan.machine(machine_id))
        return float(characteristic.aim) + gain * travel_um / characteristic.um_per_unit
    tolerance = characteristic.tolerance
    edge = tolerance.upper if way.limit == "upper" else tolerance.lower
    return None if edge is None else float(edge)


def _earlier(
    state: StreamState, characteristic: Characteristic, way: Way, end: float
) -> tuple[EarlierLine, ...]:
    start_um = end * characteristic.um_per_unit - _grows(way, end, characteristic) * way.length_um
    start = start_um / characteristic.um_per_unit
    lines = []
    for finished in state.finished:
        past = dict(finished.ways).get(characteristic.name)
        if past is not None and len(past.points) > 1:
            lines.append(EarlierLine(finished.die_set, _laid_on(past, start, end)))
    return tuple(lines[-_MOST_EARLIER:])


def _grows(way: Way, end: float, characteristic: Characteristic) -> float:
    """Whether the way leads up or down."""
    if way.limit == "travel":
        return 1.0 if end >= float(characteristic.aim) else -1.0
    return 1.0 if way.limit == "upper" else -1.0


def _laid_on(past: PastWay, start: float, end: float) -> tuple[tuple[float, float], ...]:
    points = [(float(each.age_pieces), STAGES[each.stage]) for each in past.points]
    if past.is_known:
        points.append((past.life_pieces, 1.0))
    return tuple((age, start + share * (end - start)) for age, share in points)
