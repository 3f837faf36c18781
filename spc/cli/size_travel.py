"""`spc size travel`: what a measured trace says about the travel of a screw, and which grade it reaches."""

import argparse
from typing import TYPE_CHECKING, Any

from spc.cli.parsing import Commands, add_number, command
from spc.cli.saying import complain_of, say, say_json, say_rows
from spc.errors import Refusal, Refused

if TYPE_CHECKING:
    from spc.geometry import NominalLead, Travel, TravelGrade
    from spc.intake import ColumnsRead

__all__ = ["add_travel"]

_TRACE = ("position_mm", "deviation_um")
_NOMINAL = ("position_mm", "lead_mm")

_MORE = """\
The trace has position_mm (rising) and deviation_um, measured travel less specified travel. The mean travel is the
least-squares line; variations are widths of the band parallel to it: over the whole trace, in any 300 mm and, with
--lead, in any turn. For a lead that changes on purpose --nominal gives lead_mm over position_mm; the trace is then
measured against the constant --lead. JIS B 1192 and ISO 3408-3 differ: a grade says nothing without its standard."""


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
    parser.add_argument("--nominal", metavar="FILE", help="CSV with position_mm (rising) and lead_mm")
    parser.add_argument("--json", action="store_true", help="answer as one JSON object for another program")


def _run(arguments: argparse.Namespace) -> int:
    from spc.geometry import travel, travel_grade

    if arguments.nominal is not None and arguments.lead is None:
        arguments.parser.error("--nominal needs --lead, the constant lead that the trace is measured against")
    traced = _read(arguments.trace, _TRACE)
    nominal, more = _nominal(arguments.nominal)
    columns = ([float(value) for value in traced.number(name)] for name in _TRACE)
    try:
        found = travel(*columns, lead_mm=arguments.lead, nominal=nominal)
    except Refused as refused:  # name the file the readings came from
        raise Refused(_placed(refused, traced.file)) from None
    judged = travel_grade(found, arguments.standard, lead_mm=arguments.lead)
    if arguments.json:
        say_json(_answer(found, judged))
    else:
        _tell(found, judged)
    refusals = (*traced.refusals, *more)
    complain_of(refusals)
    return 2 if refusals else 0


def _read(file: str, names: tuple[str, ...]) -> "ColumnsRead":
    """Read the columns of a trace or table; a gap would bend it, so that a bad cell refuses the file."""
    from spc.intake import read_columns

    read = read_columns(file, (), names)
    gaps = [refusal for refusal in read.refusals if refusal.column in names]
    if gaps:
        raise Refused(gaps)
    return read


def _nominal(file: str | None) -> "tuple[NominalLead | None, tuple[Refusal, ...]]":
    """Read the table of a lead that changes on purpose."""
    from spc.geometry import nominal_lead

    if file is None:
        return None, ()
    read = _read(file, _NOMINAL)
    try:
        table = nominal_lead(*([float(value) for value in read.number(name)] for name in _NOMINAL))
    except Refused as refused:
        raise Refused(_placed(refused, read.file)) from None
    return table, read.refusals


def _placed(refused: Refused, file: str) -> list[Refusal]:
    """Say of refusals from the arithmetic which file they speak of."""
    from dataclasses import replace

    return [replace(refusal, file=refusal.file or file) for refusal in refused.refusals]


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


def _remembered(one: Any) -> str:
    """Mark a grade that rests on figures from memory."""
    figures = _tolerances(one.tolerances).values()
    return " (some tolerances from memory)" if any(each["known"] == "from memory" for each in figures) else ""
