"""The checks of a first phase against its limits: what stands out, and the points ready to draw."""

from collections.abc import Mapping
from dataclasses import replace

from spc.station.first_phase_records import PhaseCheck
from spc.station.limits_now import lower_limit
from spc.station.views import CharacteristicHistory, CheckPoint
from spc.statistics import (
    RULE_SETS,
    ChartSignal,
    ShewhartLimits,
    chart_signals,
    limits_from_sigma,
    points_beyond,
)

__all__ = ["drawn_with", "one_level", "phase_check", "what_stands_out"]


def what_stands_out(
    taken: list[CheckPoint], counted: list[CheckPoint], limits: ShewhartLimits
) -> dict[int, tuple[str, ...]]:
    """Return sentences by check: of those that count by limits and runs, of those left out by the limits alone."""
    said: dict[int, list[str]] = {}
    for signal in chart_signals(limits, RULE_SETS["house"]):
        said.setdefault(counted[signal.index - 1].check_id, []).append(_words(signal, limits))
    inside = {point.check_id for point in counted}
    for point in taken:
        if point.check_id in inside:
            continue
        own = limits_from_sigma(limits.centre, limits.sigma_within, point.n, limits.chart)
        found = points_beyond((point.mean,), own.lower, own.upper)
        if point.n > 1:
            found += points_beyond((point.range,), own.spread_lower, own.spread_upper, of="spread")
        if found:
            said[point.check_id] = [_words(signal, limits) for signal in found]
    return {check_id: tuple(says) for check_id, says in said.items()}


def _words(signal: ChartSignal, limits: ShewhartLimits) -> str:
    if signal.of == "location":
        return signal.says
    return f"{'step from the check before' if limits.chart == 'individuals' else 'range'}: {signal.says}"


def phase_check(
    point: CheckPoint, said: Mapping[int, tuple[str, ...]], reasons: Mapping[int, str]
) -> PhaseCheck:
    """Return one check with what is said of it and why it was left out."""
    return PhaseCheck(
        point.check_id,
        point.time,
        point.n,
        point.mean,
        point.range,
        said.get(point.check_id, ()),
        reasons.get(point.check_id, ""),
    )


def drawn_with(
    history: CharacteristicHistory,
    taken: list[CheckPoint],
    limits: ShewhartLimits,
    said: Mapping[int, tuple[str, ...]],
    reasons: Mapping[int, str],
) -> CharacteristicHistory:
    """Return the history with these limits in place of those of the day; a check left out shows as struck out."""
    points = []
    for point in taken:
        own = limits_from_sigma(limits.centre, limits.sigma_within, point.n, limits.chart)
        says = said.get(point.check_id, ())
        points.append(
            replace(
                point,
                centre=limits.centre,
                lower=lower_limit(history.characteristic, one_level(own.lower)),
                upper=one_level(own.upper),
                spread_upper=one_level(own.spread_upper) if point.n > 1 else None,
                standing="provisional",
                verdict="watch" if says else "run",
                says=says,
                struck_out=point.check_id in reasons,
            )
        )
    return replace(history, points=tuple(points))


def one_level(level: float | tuple[float, ...]) -> float:
    """Return the one limit of one size of check."""
    return level[0] if isinstance(level, tuple) else level
