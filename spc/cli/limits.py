"""`spc limits`: control limits of a file, once, with what stands out."""

import argparse
from typing import TYPE_CHECKING

from spc.cli.one_off import exit_code, read_picked, rows_said_too
from spc.cli.parsing import CommandParser, Commands, add_number, add_pick, command
from spc.cli.saying import say, say_json, say_rows
from spc.shop.layouts import CHART_RULES

if TYPE_CHECKING:
    from spc.cli.charted import Asked, Chart
    from spc.intake import SubgroupsRead

__all__ = ["add_to"]

_FOR_RULES = ("xbar_r", "xbar_s", "median_r", "individuals")
CHARTS = (*_FOR_RULES, "ewma", "cusum")
_ONLY_FOR = {"weight": "ewma", "width": "ewma", "slack": "cusum", "decision": "cusum"}

_LEVELS = ("lower", "upper", "spread_centre", "spread_lower", "spread_upper")

_MORE = """\
Lengths are in the unit of the file. Hourly checks only, where the file says the purpose. A point on a limit is inside.
Nothing goes into the record: limits that judge are signed on the page."""


def add_to(commands: Commands) -> None:
    """Add the command."""
    parser = command(
        commands,
        "limits",
        does="work out control limits for a file of readings, once",
        more=_MORE,
        example="  spc limits --chart xbar_r --readings rings.csv\n"
        "  spc limits --chart ewma --readings readings.csv --machine R1 --part KS-24 --characteristic over_pin --json",
        run=_run,
    )
    add_pick(parser)
    parser.add_argument("--chart", required=True, choices=CHARTS, help="which chart")
    parser.add_argument(
        "--rules",
        choices=CHART_RULES,
        default="none",
        help="run rules besides the limits, not for ewma or cusum (default: none)",
    )
    add_number(parser, "--target", "centre, in the file's unit (default: the mean)")
    add_number(parser, "--sigma", "standard deviation of one piece, in the file's unit, above 0")
    add_number(parser, "--weight", "EWMA: weight of the newest point, above 0 to 1 (default: 0.2)")
    add_number(parser, "--width", "EWMA: half width of the limits in σ (default: 3)")
    add_number(parser, "--slack", "CUSUM: K, in σ of the plotted point (default: 0.5)")
    add_number(parser, "--decision", "CUSUM: H, in σ of the plotted point (default: 5)")


def _run(arguments: argparse.Namespace) -> int:
    asked = _asked(arguments)

    from spc.cli.charted import charted

    read = read_picked(arguments)
    with rows_said_too(read):
        chart = charted(read.subgroups, asked)
    if arguments.json:
        say_json(_answer(chart, asked))
    else:
        _tell(chart, asked, read)
    return exit_code(read, arguments)


def _asked(arguments: argparse.Namespace) -> "Asked":
    """Read the options; one that belongs to another chart is wrong usage, not ignored."""
    parser: CommandParser = arguments.parser
    chart: str = arguments.chart
    given = {name: value for name in _ONLY_FOR if (value := getattr(arguments, name)) is not None}
    for name in given:
        if _ONLY_FOR[name] != chart:
            parser.error(f"--{name} belongs to --chart {_ONLY_FOR[name]}, not to {chart}")
    if arguments.rules != "none" and chart not in _FOR_RULES:
        parser.error(
            f"run rules read points that know nothing of each other, and {chart} has none: leave out --rules, "
            f"or take --chart {', '.join(_FOR_RULES[:-1])} or {_FOR_RULES[-1]}"
        )

    from spc.cli.charted import Asked

    return Asked(chart, arguments.rules, arguments.target, arguments.sigma, **given)


def _answer(chart: "Chart", asked: "Asked") -> dict[str, object]:
    """Return the answer for another program; what a chart does not have is null."""
    from spc.cli.charted import with_signals

    answer: dict[str, object] = {"chart": asked.chart, "n": chart.n, "subgroups": chart.subgroups}
    answer["centre"] = chart.centre
    answer |= {name: _level(chart, getattr(chart, name, None)) for name in _LEVELS}
    answer |= {"sigma_within": chart.sigma_within, "points": chart.points}
    if asked.chart == "cusum":
        answer |= {"high": getattr(chart, "high", None), "low": getattr(chart, "low", None)}
    answer["signals"] = [
        {"index": each.index, "kind": each.kind, "of": each.of, "says": each.says}
        for each in with_signals(chart, asked.rules)
    ]
    return answer


def _level(chart: "Chart", level: object) -> object:
    """Return a limit, one a subgroup where the subgroups differ in size, even if it comes out the same for all."""
    return [level] * chart.subgroups if isinstance(chart.n, tuple) and isinstance(level, float) else level


def _tell(chart: "Chart", asked: "Asked", read: "SubgroupsRead") -> None:
    from spc.cli.charted import with_signals
    from spc.cli.limits_table import heading, meaning, point_lines, summary

    signals = with_signals(chart, asked.rules)
    say(heading(asked, read))
    say()
    say_rows(summary(chart))
    say()
    for line in point_lines(chart, signals):
        say(line)
    say()
    say(meaning(chart, signals))
