"""`spc gauge-study`: how much of what a gauge shows is the gauge and the people who use it."""

import argparse
from typing import TYPE_CHECKING, Any

from spc.cli.parsing import Commands, add_number, command
from spc.cli.saying import complain_of, say_json
from spc.errors import Refusal, Refused

if TYPE_CHECKING:
    from spc.intake import ColumnsRead
    from spc.statistics import AverageRangeStudy, GaugeReading, GaugeStudy

__all__ = ["add_to"]

SIGMAS = ("repeatability", "reproducibility", "interaction", "grr", "part", "total")
_TEXTS = ("appraiser", "part", "trial")

_MORE = """\
The file has the columns appraiser, part, trial and value; everybody gauges every part equally often, without knowing
the reading before. One appraiser alone is taken too. Standard deviations are in the unit of the file."""


def add_to(commands: Commands) -> None:
    """Add the command."""
    parser = command(
        commands,
        "gauge-study",
        does="split the spread of a gauge study into gauge, people and parts, once",
        more=_MORE,
        example="  spc gauge-study --readings study.csv --tolerance 0.036\n"
        "  spc gauge-study --readings study.csv --json",
        run=_run,
    )
    parser.add_argument(
        "--readings", required=True, metavar="FILE", help="CSV or XLSX: appraiser, part, trial, value"
    )
    add_number(parser, "--tolerance", "upper minus lower limit, in the unit of the file, above 0")
    parser.add_argument("--json", action="store_true", help="answer as one JSON object for another program")


def _run(arguments: argparse.Namespace) -> int:
    from spc.intake import read_columns
    from spc.statistics import average_range_study, gauge_study

    read = read_columns(arguments.readings, _TEXTS, ("value",))
    readings = _readings(read)
    try:
        found = gauge_study(readings, arguments.tolerance)
    except Refused as refused:  # a row that could not be read is why a trial is missing: say both
        raise Refused((*read.refusals, *refused.refusals)) from None
    by_ranges = average_range_study(readings) if found.appraisers > 1 else None
    if arguments.json:
        say_json(_answer(found, by_ranges))
    else:
        from spc.cli.gauge_study_table import tell

        tell(found, by_ranges, read.file)
    complain_of(read.refusals)
    return 2 if read.refusals else 0


def _readings(read: "ColumnsRead") -> "list[GaugeReading]":
    """Return the readings; a trial that stands twice is refused."""
    from spc.statistics import GaugeReading

    keys = list(zip(*(read.text(name) for name in _TEXTS), strict=True))
    seen: dict[tuple[str, ...], int] = {}
    twice = []
    for key, row in zip(keys, read.rows, strict=True):
        if key in seen:
            reason = f"appraiser {key[0]} has part {key[1]}, trial {key[2]} in row {seen[key]} already"
            twice.append(
                Refusal(
                    reason, key[2], read.file, row, "trial", "each trial once", "Number it anew or drop it"
                )
            )
        seen.setdefault(key, row)
    if twice:
        raise Refused((*read.refusals, *twice))
    return [
        GaugeReading(appraiser, part, float(value))
        for (appraiser, part, _), value in zip(keys, read.number("value"), strict=True)
    ]


def _answer(found: "GaugeStudy", by_ranges: "AverageRangeStudy | None") -> dict[str, Any]:
    """Return the answer for another program; what one appraiser cannot show is null."""
    components = {name: found.component(name) for name in SIGMAS}

    def each(field: str) -> dict[str, Any]:
        return {name: None if one is None else getattr(one, field) for name, one in components.items()}

    return {
        "anova": [
            {name: getattr(line, name) for name in ("source", "df", "ss", "ms", "f", "p")}
            for line in found.anova
        ],
        "sigma": each("sigma"),
        "percent_of_total": each("percent_of_total"),
        "percent_of_tolerance": None if found.tolerance is None else each("percent_of_tolerance"),
        "ndc": found.ndc,
        "ndc_exact": found.ndc_exact,
        "interaction_pooled": found.interaction_pooled,
        "average_range": None if by_ranges is None else _by_ranges(by_ranges),
        "intervals": {
            name: None if one is None else {"low": one.low, "high": one.high}
            for name, one in components.items()
        },
    }


def _by_ranges(study: "AverageRangeStudy") -> dict[str, Any]:
    sigmas = {name: getattr(study, name) for name in SIGMAS if name != "interaction"}
    return {
        "sigma": sigmas,
        "percent_of_total": study.percent_of_total,
        "ndc": study.ndc,
        "ndc_exact": study.ndc_exact,
    }
