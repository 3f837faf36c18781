"""When a machine ran a part: between mountings and removals, without the logged stops."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from spc.shop import EventLogged
from spc.station.schedule import RunningSpan

__all__ = ["running_spans"]


def running_spans(
    events: Sequence[EventLogged], checks: Sequence[datetime], part: str, end: datetime
) -> list[RunningSpan]:
    """Return when the machine ran this part, until `end`.

    Parameters
    ----------
    events : sequence of EventLogged
        Of one machine, in order.
    checks : sequence of datetime
        Of this part on it; where no die set was ever logged, running begins with the first.
    """
    mounted = _mounted(events, part, end)
    if mounted is None:
        mounted = [RunningSpan(checks[0], end)] if checks else []
    for event in events:
        if event.event == "machine_stopped":
            stop_end = event.time + timedelta(minutes=float(event.value))
            mounted = [piece for span in mounted for piece in _without(span, event.time, stop_end)]
    return mounted


def _mounted(events: Sequence[EventLogged], part: str, end: datetime) -> list[RunningSpan] | None:
    spans: list[RunningSpan] = []
    start: datetime | None = None
    is_logged = False
    for event in events:
        if event.event == "die_set_mounted":
            is_logged = True
            if start is not None:
                spans.append(RunningSpan(start, event.time))
            start = event.time if event.part in ("", part) else None
        elif event.event == "die_set_removed":
            is_logged = True
            if start is not None:
                spans.append(RunningSpan(start, event.time))
            start = None
    if start is not None and start < end:
        spans.append(RunningSpan(start, end))
    return spans if is_logged else None


def _without(span: RunningSpan, start: datetime, end: datetime) -> list[RunningSpan]:
    if end <= span.start or start >= span.end:
        return [span]
    pieces = []
    if start > span.start:
        pieces.append(RunningSpan(span.start, start))
    if end < span.end:
        pieces.append(RunningSpan(end, span.end))
    return pieces
