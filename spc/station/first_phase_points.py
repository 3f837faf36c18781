"""The checks of a first phase against its limits: what stands out, and the points ready to draw."""

from collections.abc import Mapping
from dataclasses import replace

from spc.shop import Characteristic
from spc.station.first_phase_records import PhaseCheck
from spc.station.limits_now import lower_limit
from spc.station.views import CharacteristicHistory, CheckPoint
from spc.statistics import (
    RULE_SETS,
    ChartSignal,
    ShewhartLimits,
    chart_signals,
    limits_from_sigma,
)

__all__ = ["drawn_with", "one_level", "phase_check", "what_stands_out"]


def what_stands_out(
    characteristic: Characteristic,
    taken: list[CheckPoint],
    counted: list[CheckPoint],
    limits: ShewhartLimits,
) -> dict[int, tuple[str, ...]]:
    """Return sentences by check: of those that count by limits and runs, of those left out by the limits alone."""
    digits = max(0, -int(characteristic.nominal.as_tuple().exponent)) + 1
    said: dict[int, list[str]] = {}
    for signal in chart_signals(limits, RULE_SETS["house"]):
        said.setdefault(counted[signal.index - 1].check_id, []).append(_words(signal, limits, digits))
    inside = {point.check_id for point in counted}
    for point in taken:
        if point.check_id not in inside:
            own = limits_from_sigma(limits.centre, limits.sigma_within, point.n, limits.chart)
            spreads = (point.range,) if point.n > 1 else ()
            own = replace(own, points=(point.mean,), spread_points=spreads)
            said[point.check_id] = [_words(signal, own, digits) for signal in chart_signals(own)]
    return {check_id: tuple(says) for check_id, says in said.items()}


def _words(signal: ChartSignal, limits: ShewhartLimits, digits: int) -> str:
    """Say it to the digits of the plan; a run says itself."""
    if signal.kind == "run_rule":
        return signal.says
    if signal.of == "location":
        name, values, low, high = "mean", limits.points, limits.lower, limits.upper
    else:
        name = "step from the check before" if limits.chart == "individuals" else "range"
        values, low, high = limits.spread_points, limits.spread_lower, limits.spread_upper
    place = signal.index - 1 - (len(limits.points) - len(values))
    lows, highs = (each if isinstance(each, tuple) else (each,) * len(values) for each in (low, high))
    value = values[place]
    side, limit = ("above", highs[place]) if value > highs[place] else ("below", lows[place])
    name = "value" if name == "mean" and limits.chart == "individuals" else name
    return f"{name} {value:.{digits}f} {side} the limit {limit:.{digits}f}"


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
    """Return the history with these limits in place of those of the day; a check left out is marked so."""
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
                standing="proposed",
                verdict="watch" if says else "run",
                says=says,
                left_out=point.check_id in reasons,
            )
        )
    return replace(history, points=tuple(points))


def one_level(level: float | tuple[float, ...]) -> float:
    """Return the one limit of one size of check."""
    return level[0] if isinstance(level, tuple) else level
