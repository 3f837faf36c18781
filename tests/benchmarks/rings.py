"""Alarms: those of the station and those of a plain X-bar and R chart on the same checks."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from spc.shop import Verdict
from spc.statistics import last_point_findings, rule_set, xbar_r_limits
from spc.wear import MEAN_LIMIT
from tests.benchmarks.fleet import Story
from tests.benchmarks.truth import SetTruth

ALARMS = ("beyond_limits", "run_rule", "step", "drift", "spread", "isolated", "wear_rate")
HOLDS = ("out_of_tolerance", "visual")
CHARACTERISTICS = ("over_pin", "lead_error", "runout")
RIGHT = {"step": "step", "spread": "spread", "rate": "wear"}
"""The cause that names each unlogged change."""
TRULY_OUTSIDE = 0.001
"""Share of pieces outside the tolerance above which a hold is no false alarm: there were bad pieces to hold."""
BASE_CHECKS, LOOKED_AFTER = 20, 25
COLD_PIECES = 500
"""Pieces after a start in which a change may be taken for the start's."""


@dataclass(frozen=True, slots=True)
class Found:
    """How an unlogged change was found.

    Attributes
    ----------
    looked : int
        Checks that the set stayed on from then, the change's own counted, at most 25.
    delay : int or None
        Checks until it was found, its own counted; None where not within those.
    named : str
    chart_delay : int or None
        The same of the plain chart.
    beside : str
        What else began at that check: "bars", "start", or "".
    opened : str
        The change's own check: what was expected, what came, and what the station said.
    """

    looked: int
    delay: int | None
    named: str
    chart_delay: int | None
    beside: str
    opened: str


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
    """Say how each unlogged change over pins was found, as long as the set stayed on after it."""
    rung = chart_rings(story)
    changed = [each for each in story.book.sets if each.changed_at is not None]
    return [_found(each, story.verdicts[each.die_set], rung) for each in changed]


def _found(truth: SetTruth, verdicts: list[Verdict], rung: dict[tuple[str, object], bool]) -> Found:
    delay, named, chart_delay = None, "", None
    at = truth.changed_at or 0
    after = verdicts[at : at + LOOKED_AFTER]
    for k, verdict in enumerate(after, start=1):
        if delay is None and alarm_kinds(verdict, "over_pin", ALARMS):
            delay, named = k, _named(verdict)
        if chart_delay is None and rung.get((verdict.machine, verdict.time)):
            chart_delay = k
    return Found(len(after), delay, named, chart_delay, _beside(truth, at), _opened(truth, verdicts[at]))


def _beside(truth: SetTruth, at: int) -> str:
    made = truth.made
    if made[at].batch != made[at - 1].batch:
        return "bars"
    return "start" if made[at].since_start <= COLD_PIECES else ""


def _opened(truth: SetTruth, verdict: Verdict) -> str:
    """One line on the check of a change: the residual against its forecast, and what was said of it."""
    shown, mean = verdict.subgroup("over_pin"), truth.made[truth.changed_at or 0]
    says = ", ".join(each.cause for each in verdict.explained if each.characteristic == "over_pin")
    said = ", ".join(each.kind for each in verdict.signals if each.characteristic == "over_pin")
    if shown is None or shown.centre is None or shown.upper is None:
        return f"sigma {mean.sigma_um:.2f} um, not judged by a forecast"
    off, sd = 1000.0 * (shown.mean - shown.centre), 1000.0 * (shown.upper - shown.centre) / MEAN_LIMIT
    said = said or (f"explained by {says}" if says else "nothing")
    return f"sigma {mean.sigma_um:.2f} um, off {off:+.1f} um of sd {sd:.2f}, {off / sd:+.1f} sd; said: {said}"


def mean_checks(delays: Sequence[tuple[int | None, int]]) -> float:
    """Mean checks until changes are found, one that is not found counting 25.

    Parameters
    ----------
    delays : sequence of (int or None, int)
        Checks until found, and checks looked at: a set that comes off unfound counts as long as it was on.

    Notes
    -----
    The area under the share not found yet (Kaplan & Meier 1958, J. Am. Stat. Assoc. 53, 457-481, from memory). The
    quicker a die wears, the sooner it comes off and the sooner its change is found: so it errs to the late side.
    """
    unfound, area = 1.0, 0.0
    for k in range(1, LOOKED_AFTER + 1):
        area += unfound
        on = sum(looked >= k and (delay or LOOKED_AFTER) >= k for delay, looked in delays)
        unfound *= 1.0 - sum(delay == k for delay, _ in delays) / on if on else 1.0
    return area


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
