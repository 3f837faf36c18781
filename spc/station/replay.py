"""Run a history check by check exactly as if live, touching no record."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from spc.shop import CheckGauged, EventLogged, Fact, Plan, PlanTaken, Verdict
from spc.station.fold import step
from spc.station.state import BEFORE_ALL, StreamState

__all__ = ["replay", "streams"]


def replay(
    plans: Sequence[Plan], checks: Iterable[CheckGauged], events: Iterable[EventLogged]
) -> list[Verdict]:
    """Judge a whole history.

    Parameters
    ----------
    plans : sequence of Plan
        One a part.
    checks, events : iterables
        In file order; they are put in the order of facts here.

    Returns
    -------
    list of Verdict
        One a check, in time order; at equal time in the order of the file.
    """
    verdicts: list[tuple[Verdict, int]] = []
    for plan, facts in streams(plans, checks, events):
        state, _ = step(StreamState(plan.part), PlanTaken(BEFORE_ALL, plan.part, plan.text, plan.source))
        for place, fact in facts:
            state, verdict = step(state, fact)
            if verdict is not None:
                verdicts.append((verdict, place))
    verdicts.sort(key=lambda each: (each[0].time, each[1]))
    return [verdict for verdict, _ in verdicts]


def streams(
    plans: Sequence[Plan], checks: Iterable[CheckGauged], events: Iterable[EventLogged]
) -> Iterator[tuple[Plan, list[tuple[int, Fact]]]]:
    """Part a history into streams, each in the order of facts, with the place each fact had in its file."""
    by_part: dict[str, list[tuple[int, Fact]]] = defaultdict(list)
    machines = {plan.part: {machine.id for machine in plan.machines} for plan in plans}
    shared: list[tuple[int, EventLogged]] = []
    for place, check in enumerate(checks):
        by_part[check.part].append((place, check))
        machines[check.part].add(check.machine)
    for place, event in enumerate(events):
        if event.part:
            by_part[event.part].append((place, event))
            machines.setdefault(event.part, set()).add(event.machine)
        else:
            shared.append((place, event))
    for plan in plans:
        facts = by_part[plan.part]
        facts += [(place, event) for place, event in shared if event.machine in machines[plan.part]]
        facts.sort(key=lambda each: (each[1].time, each[1].order, each[0]))
        yield plan, facts
