"""`spc size travel`: what a measured trace says about the travel of a screw, and which grade it reaches."""

import argparse
from typing import TYPE_CHECKING, Any

from spc.cli.of_file import of_file
from spc.cli.parsing import Commands, add_number, command
from spc.cli.saying import complain_of, say, say_json, say_rows
from spc.errors import Refused

if TYPE_CHECKING:
    from spc.geometry import JudgedGrade, NominalLead, Travel, TravelGrade
    from spc.intake import ColumnsRead

__all__ = ["add_travel"]

_TRACE = ("position_mm", "deviation_um")
_LEADS = ("position_mm", "lead_mm")

_MORE = """\
The trace has position_mm (rising) and deviation_um, measured travel less specified travel. The mean travel is the
least-squares line; variations are widths of the band parallel to it: over the whole trace, in any 300 mm and, with
--lead, in any turn. Where the lead changes on purpose, --nominal gives over position_mm either lead_mm, the trace
then being measured against the constant --lead, or deviation_um, which is taken off the trace.
JIS B 1192 and ISO 3408-3 differ: a grade says nothing without its standard."""


def add_travel(kinds: Commands) -> None:
    """Add the command below `spc size`."""
    parser = command(
        kinds,
        "travel",
        does="travel of a screw, worm or groove from a measured trace, and the grade it reaches",
        more=_MORE,
        example="  spc size travel --trace trace.csv --standard jis --lead 10\n"
        "  spc size travel --trace trace.csv --standard iso --lead 10 --nominal lead.csv --json",
        run=_run,
    )
    parser.add_argument(
        "--trace", required=True, metavar="FILE", help="CSV with position_mm (rising) and deviation_um"
    )
    parser.add_argument(
        "--standard", required=True, choices=("jis", "iso"), help="JIS B 1192 series C, or ISO 3408-3"
    )
    add_number(parser, "--lead", "lead, mm: judges every turn as well, and the number of readings")
    parser.add_argument(
        "--nominal",
        metavar="FILE",
        help="CSV with position_mm (rising) and lead_mm or deviation_um: what is meant",
    )
    parser.add_argument("--json", action="store_true", help="answer as one JSON object for another program")


def _run(arguments: argparse.Namespace) -> int:
    from spc.geometry import travel, travel_grade

    traced = _read(arguments.trace, _TRACE)
    position, deviation = _columns(traced, _TRACE)
    refusals, nominal = traced.refusals, None
    if arguments.nominal is not None:
        table, names = _table(arguments.nominal)
        refusals += table.refusals
        deviation, nominal = _meant(arguments, table, names, traced)
    with of_file(traced.file):
        found = travel(position, deviation, lead_mm=arguments.lead, nominal=nominal)
    judged = travel_grade(found, arguments.standard, lead_mm=arguments.lead)
    if arguments.json:
        say_json(_answer(found, judged))
    else:
        _tell(found, judged)
    complain_of(refusals)
    return 2 if refusals else 0


def _read(file: str, names: tuple[str, ...]) -> "ColumnsRead":
    """Read the columns of a trace or table."""
    from spc.intake.columns_file import read_unbroken

    return read_unbroken(file, names)


def _columns(read: "ColumnsRead", names: tuple[str, ...]) -> list[list[float]]:
    return [[float(value) for value in read.number(name)] for name in names]


def _table(file: str) -> "tuple[ColumnsRead, tuple[str, ...]]":
    """Read a table of nominal leads, else one of nominal deviations."""
    try:
        return _read(file, _LEADS), _LEADS
    except Refused as refused:
        if [each.column for each in refused.refusals] != ["lead_mm"] or refused.refusals[0].value:
            raise
        return _read(file, _TRACE), _TRACE


def _meant(
    arguments: argparse.Namespace, table: "ColumnsRead", names: tuple[str, ...], traced: "ColumnsRead"
) -> "tuple[list[float], NominalLead | None]":
    """Return the trace's deviation and the table of leads; a table of deviations is taken off right here."""
    from spc.geometry import less_meant, nominal_lead

    position, deviation = _columns(traced, _TRACE)
    if names == _LEADS:
        if arguments.lead is None:
            arguments.parser.error(
                "a table of leads needs --lead, the lead that the trace is measured against"
            )
        with of_file(table.file):
            return deviation, nominal_lead(*_columns(table, names))
    with of_file(table.file):
        return less_meant(position, deviation, *_columns(table, names)).tolist(), None


def _answer(found: "Travel", judged: "TravelGrade") -> dict[str, Any]:
    """Return the answer for another program; what was not measured or not known is null."""
    return {
        "mean_deviation_um": found.mean_deviation_um,
        "variation_um": found.variation_um,
        "variation_300_um": found.variation_300_um,
        "variation_2pi_um": found.variation_2pi_um,
        "grade": judged.grade,
        "grades": {one.grade: one.verdict for one in judged.grades},
        "prevents": {one.grade: list(one.prevents) for one in judged.grades if one.prevents},
        "tolerances": {one.grade: _tolerances(one.tolerances) for one in judged.grades},
        "cautions": list(judged.cautions),
        "travel_mm": found.travel_mm,
        "n": found.n,
    }


def _tolerances(allowed: Any) -> dict[str, Any]:
    """Return what a grade allows, each figure with how it is known."""
    names = ("mean", "variation", "variation_300", "variation_2pi", "error_300")
    figures = {name: getattr(allowed, f"{name}_um") for name in names}
    return {f"{name}_um": {"value": figure.value, "known": figure.how} for name, figure in figures.items()}


def _tell(found: "Travel", judged: "TravelGrade") -> None:
    """Say the travel in words, what it reaches, and what keeps it from the next grade."""
    in_turn = "– (no lead given)" if found.variation_2pi_um is None else f"{found.variation_2pi_um:.2f} µm"
    say_rows(
        [
            ("mean deviation", f"{found.mean_deviation_um:+.2f} µm over {found.travel_mm:g} mm"),
            ("variation", f"{found.variation_um:.2f} µm"),
            (
                "variation 300",
                f"{found.variation_300_um:.2f} µm from {found.from_300_mm:g} to {found.to_300_mm:g} mm",
            ),
            ("variation 2π", in_turn),
            ("grade", f"{judged.grade or 'none'} by {_NAMES[judged.standard]}"),
        ]
    )
    say()
    for one in judged.grades:
        reasons = f": {'; '.join(one.prevents)}" if one.prevents else ""
        say(f"{one.grade}  {one.verdict}{reasons}{_remembered(one)}")
    for caution in judged.cautions:
        say(f"Note: {caution}.")


_NAMES = {"jis": "JIS B 1192", "iso": "ISO 3408-3"}


def _remembered(one: "JudgedGrade") -> str:
    """Mark a grade that rests on figures from memory."""
    return " (some tolerances from memory)" if one.tolerances.is_partly_remembered else ""
