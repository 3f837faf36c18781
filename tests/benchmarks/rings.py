"""Alarms: those of the station and those of a plain X-bar and R chart on the same checks."""

from collections import Counter
from dataclasses import dataclass, field

from spc.shop import Verdict
from spc.statistics import last_point_findings, rule_set, xbar_r_limits
from tests.benchmarks.fleet import Story
from tests.benchmarks.floor import SetTruth

ALARMS = ("beyond_limits", "run_rule", "step", "drift", "spread", "isolated", "wear_rate")
HOLDS = ("out_of_tolerance", "visual")
CHARACTERISTICS = ("over_pin", "lead_error", "runout")
RIGHT = {"step": "step", "spread": "spread", "rate": "wear"}
"""The cause that names each unlogged change."""
TRULY_OUTSIDE = 0.001
"""Share of pieces outside the tolerance above which a hold is no false alarm: there were bad pieces to hold."""
BASE_CHECKS, LOOKED_AFTER = 20, 25


@dataclass(frozen=True, slots=True)
class Found:
    """How an unlogged change was found: checks until then, its own counted; None where not within 25."""

    delay: int | None
    named: str
    chart_delay: int | None


@dataclass(slots=True)
class Quiet:
    """Checks of quiet histories; those with a false alarm by characteristic; the same of the plain chart."""

    checks: int = 0
    alarms: Counter[str] = field(default_factory=Counter)
    kinds: Counter[str] = field(default_factory=Counter)
    charted: int = 0
    chart_alarms: int = 0


def quiet_alarms(story: Story) -> Quiet:
    """Count false alarms on sets that are not yet worn out; nothing in such a history happens unlogged."""
    found = Quiet()
    rung = chart_rings(story)
    for truth in story.book.sets:
        for verdict, outside in zip(story.verdicts[truth.die_set], truth.outside, strict=True):
            if (verdict.age or 0) >= truth.end_age:
                continue
            found.checks += 1
            judged = rung.get((verdict.machine, verdict.time))
            found.charted += judged is not None
            found.chart_alarms += bool(judged)
            for name in CHARACTERISTICS:
                kinds = alarm_kinds(verdict, name, ALARMS)
                found.kinds.update(f"{name} {kind}" for kind in set(kinds))
                held = alarm_kinds(verdict, name, HOLDS) and outside.get(name, 0.0) <= TRULY_OUTSIDE
                found.alarms[name] += bool(kinds or held)
    return found


def changes_found(story: Story) -> list[Found]:
    """Say how each unlogged change over pins was found, where the set was on long enough after it."""
    rung = chart_rings(story)
    return [
        _found(each, story.verdicts[each.die_set], rung)
        for each in story.book.sets
        if each.changed_at is not None and len(each.times) >= each.changed_at + LOOKED_AFTER
    ]


def _found(truth: SetTruth, verdicts: list[Verdict], rung: dict[tuple[str, object], bool]) -> Found:
    delay, named, chart_delay = None, "", None
    at = truth.changed_at or 0
    for k, verdict in enumerate(verdicts[at : at + LOOKED_AFTER], start=1):
        if delay is None and alarm_kinds(verdict, "over_pin", ALARMS):
            delay, named = k, _named(verdict)
        if chart_delay is None and rung.get((verdict.machine, verdict.time)):
            chart_delay = k
    return Found(delay, named, chart_delay)


def alarm_kinds(verdict: Verdict, name: str, kinds: tuple[str, ...]) -> list[str]:
    """Alarms of a check on one characteristic."""
    return [each.kind for each in verdict.signals if each.characteristic == name and each.kind in kinds]


def _named(verdict: Verdict) -> str:
    """The likeliest cause of the first alarm over pins."""
    first = next(s for s in verdict.signals if s.characteristic == "over_pin" and s.kind in ALARMS)
    return first.explanations[0].cause if first.explanations else ""


def chart_rings(story: Story) -> dict[tuple[str, object], bool]:
    """Whether a plain X-bar and R chart rings at each check: grand mean of a machine's first 20, house rules."""
    by_machine: dict[str, list[tuple[object, list[float]]]] = {}
    for check in story.book.checks:
        sizes = [float(r.value or 0) for r in check.readings if r.characteristic == "over_pin"]
        by_machine.setdefault(check.machine, []).append((check.time, sizes))
    rung: dict[tuple[str, object], bool] = {}
    for machine, taken in by_machine.items():
        base, after = taken[:BASE_CHECKS], taken[BASE_CHECKS:]
        limits = xbar_r_limits([sizes for _, sizes in base])
        centre, sigma = float(limits.centre), (_one(limits.upper) - float(limits.centre)) / 3.0
        z: list[float] = []
        for time, sizes in after:
            z.append((sum(sizes) / len(sizes) - centre) / sigma)
            wide = max(sizes) - min(sizes) > _one(limits.spread_upper)
            rung[machine, time] = wide or bool(last_point_findings(z[-9:], rule_set("house")))
    return rung


def _one(limit: object) -> float:
    """One limit of subgroups that are all alike."""
    return float(limit[0] if isinstance(limit, tuple) else limit)  # type: ignore[arg-type]  # checked here
