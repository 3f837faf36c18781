"""The table of `spc limits` for a person: what is known, the points, and one sentence of meaning."""

from collections import defaultdict
from collections.abc import Sequence

from spc.cli.charted import Asked, Chart
from spc.cli.figures import decimals_for, fixed, span
from spc.intake import SubgroupsRead
from spc.statistics import ChartSignal, CusumChart, ShewhartLimits

__all__ = ["heading", "meaning", "point_lines", "subject", "summary"]

SHOWN = 60
"""Points listed in full; of a longer file only those that stand out."""

_MANY = 0.1
"""Share of points that stand out, beyond which single causes are no longer the story (common practice, no source)."""

_TITLES = {
    "xbar_r": "X-bar and R chart",
    "xbar_s": "X-bar and s chart",
    "median_r": "median and R chart",
    "individuals": "individuals and moving range",
    "ewma": "EWMA chart",
    "cusum": "CUSUM chart",
}
_POINT = {"xbar_r": "mean", "xbar_s": "mean", "median_r": "median", "individuals": "value"}
_SPREAD = {"xbar_r": "range", "xbar_s": "s", "median_r": "range", "individuals": "moving range"}


def heading(asked: Asked, read: SubgroupsRead) -> str:
    """Say which chart of what in which unit."""
    rules = "" if asked.rules == "none" else f", run rules: {asked.rules}"
    return f"{_TITLES[asked.chart]}{subject(read)}{rules}"


def subject(read: SubgroupsRead) -> str:
    """Say of what, made where, in which unit, as the end of a heading."""
    of = f" of {read.characteristic}" if read.characteristic else ""
    part = f", {read.part}" if read.part else ""
    machine = f" on {read.machine}" if read.machine else ""
    return f"{of}{part}{machine}, {f'in {read.unit}' if read.unit else 'in the unit of the file'}"


def summary(chart: Chart) -> list[tuple[str, str]]:
    """Return the centre, limits and spread as names and values."""
    digits = decimals_for(chart.sigma_within)
    sizes = chart.n if isinstance(chart.n, tuple) else (chart.n,)
    of = f"{sizes[0]}" if len(set(sizes)) == 1 else f"{min(sizes)} to {max(sizes)}"
    many = f"{chart.subgroups} of {of} piece{'' if of == '1' else 's'}"
    rows = [("single pieces", f"{chart.subgroups}") if of == "1" else ("subgroups", many)]
    rows.append(("target" if isinstance(chart, CusumChart) else "centre", fixed(chart.centre, digits)))
    if isinstance(chart, ShewhartLimits):
        spread = _SPREAD[chart.chart]
        rows.append(("limits", span(chart.lower, chart.upper, digits)))
        rows.append((f"{spread}, centre", span_or_one(chart.spread_centre, digits)))
        rows.append((f"{spread}, limits", span(chart.spread_lower, chart.spread_upper, digits)))
    elif isinstance(chart, CusumChart):
        rows.append(
            ("limit of the sums", f"{fixed(chart.upper, digits)}  ({chart.decision:g} σ of a plotted point)")
        )
        rows.append(("slack", f"{chart.slack:g} σ of a plotted point"))
    else:
        rows.append(("limits at the end", span(chart.lower[-1], chart.upper[-1], digits)))
        rows.append(("weight", f"{chart.weight:g} for the newest point"))
        rows.append(("width", f"{chart.width:g} σ of the smoothed point"))
    return [*rows, ("σ of one piece", f"{fixed(chart.sigma_within, digits)}  ({chart.method})")]


def span_or_one(level: float | tuple[float, ...], decimals: int) -> str:
    """Write a centre line, or its smallest and largest where it steps."""
    if isinstance(level, tuple):
        return f"{fixed(min(level), decimals)} to {fixed(max(level), decimals)}"
    return fixed(level, decimals)


def point_lines(chart: Chart, signals: Sequence[ChartSignal]) -> list[str]:
    """Return the points, one a line, with what stands out said beside them."""
    digits = decimals_for(chart.sigma_within)
    said: dict[int, list[str]] = defaultdict(list)
    for signal in signals:
        said[signal.index].append(_spread_name(chart, signal) + signal.says)
    names, columns = _columns(chart, digits)
    widths = [
        max(len(name), *(len(cell) for cell in cells)) for name, cells in zip(names, columns, strict=True)
    ]
    lines = ["   ".join(f"{name:>{width}}" for name, width in zip(names, widths, strict=True))]
    count = len(columns[0])
    shown = range(1, count + 1) if count <= SHOWN else sorted(said)
    for index in shown:
        cells = (f"{column[index - 1]:>{width}}" for column, width in zip(columns, widths, strict=True))
        lines.append("   ".join((*cells, "; ".join(said[index]))).rstrip())
    if count > SHOWN:
        lines.append(f"{count} points, of which only those that stand out are listed; --json holds them all.")
    return lines


def _spread_name(chart: Chart, signal: ChartSignal) -> str:
    return f"{_SPREAD[chart.chart]} " if signal.of == "spread" and isinstance(chart, ShewhartLimits) else ""


def _columns(chart: Chart, digits: int) -> tuple[list[str], list[list[str]]]:
    """Return names and cells of the table, the number of the subgroup first."""
    numbers = [str(index) for index in range(1, len(chart.points) + 1)]
    points = [fixed(value, digits) for value in chart.points]
    if isinstance(chart, ShewhartLimits):
        spreads = [fixed(value, digits) for value in chart.spread_points]
        spreads = ["–"] * (len(points) - len(spreads)) + spreads
        return ["no.", _POINT[chart.chart], _SPREAD[chart.chart]], [numbers, points, spreads]
    if isinstance(chart, CusumChart):
        sums = [[fixed(value, digits) for value in side] for side in (chart.high, chart.low)]
        return ["no.", "value" if chart.n == 1 else "mean", "sum above", "sum below"], [
            numbers,
            points,
            *sums,
        ]
    lower, upper = ([fixed(value, digits) for value in side] for side in (chart.lower, chart.upper))
    return ["no.", "smoothed", "lower", "upper"], [numbers, points, lower, upper]


def meaning(chart: Chart, signals: Sequence[ChartSignal]) -> str:
    """Say in one sentence what the table comes to."""
    indices = sorted({signal.index for signal in signals})
    what = "pieces" if chart.n == 1 else "subgroups"
    if not indices:
        few = "" if chart.subgroups >= 20 else f"; limits worth signing want 20 {what} or more"
        return f"None of the {chart.subgroups} {what} stands out: chance alone explains what is seen{few}."
    named = ", ".join(map(str, indices[:8])) + (", …" if len(indices) > 8 else "")
    verb = "stands" if len(indices) == 1 else "stand"
    return (
        f"{len(indices)} of {chart.subgroups} {what} {verb} out (no. {named}): {_to_do(chart, len(indices))}."
    )


def _to_do(chart: Chart, out: int) -> str:
    """Say what to do about points that stand out, by how many they are."""
    if isinstance(chart, ShewhartLimits) and out > _MANY * chart.subgroups and out >= 5:
        return (
            "so many that the process does not stay at one level, and these limits do not describe it; "
            "look for wear, moves of the setting or changes of batch"
        )
    if isinstance(chart, CusumChart):
        return "find out what changed where the sum began to grow"
    return "find out what was different there before anybody relies on these limits"
