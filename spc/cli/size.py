"""`spc size …`: from what a gauge shows to the size, and back."""

import argparse

from spc.cli.of_file import of_file
from spc.cli.parsing import CommandParser, Commands, add_number, command
from spc.cli.saying import complain_of, say_json, say_rows
from spc.cli.size_travel import add_travel

__all__ = ["add_to"]

_PROFILE = ("position_mm", "height_um")


def add_to(commands: Commands) -> None:
    """Add the command and those below it."""
    parser = command(
        commands,
        "size",
        does="work out sizes from gauge readings: over pins, over wires, travel, straightness",
        example="  spc size over-pin --module 1 --teeth 24 --pressure-angle 30 --tooth-thickness 1.5 --pin 1.9",
    )
    kinds = parser.add_subparsers(metavar="what", required=True, title="what is gauged")
    _add_over_pin(kinds)
    _add_over_wire(kinds)
    add_travel(kinds)
    _add_straightness(kinds)


def _add_over_pin(kinds: Commands) -> None:
    parser = command(
        kinds,
        "over-pin",
        does="size over two pins or balls of external involute teeth, or the tooth thickness behind it",
        more="Lengths in mm, angles in degrees. The tooth thickness is normal, circular, at the reference diameter.\n"
        "Helical teeth of an odd count: over two balls in one plane across the axis.",
        example="  spc size over-pin --module 1 --teeth 24 --pressure-angle 30 --over-pin 26.9 --pin 1.9",
        run=_over_pin,
    )
    add_number(parser, "--module", "normal module, mm", needed=True)
    parser.add_argument("--teeth", type=int, required=True, metavar="Z", help="tooth count, 3 or more")
    add_number(parser, "--pressure-angle", "normal pressure angle, degrees, 5 to 60", needed=True)
    add_number(parser, "--helix", "helix angle at the reference diameter, degrees from the axis (default: 0)")
    known = parser.add_mutually_exclusive_group(required=True)
    add_number(known, "--tooth-thickness", "tooth thickness, mm: gives the size over pins")
    add_number(known, "--over-pin", "size over the pins, mm: gives the tooth thickness")
    add_number(parser, "--pin", "diameter of pins or balls, mm", needed=True)
    _json(parser)


def _over_pin(arguments: argparse.Namespace) -> int:
    from spc.geometry import InvoluteTeeth, over_pins, thickness_from_over_pins

    teeth = InvoluteTeeth(arguments.module, arguments.teeth, arguments.pressure_angle, arguments.helix or 0.0)
    if arguments.over_pin is None:
        found = over_pins(teeth, arguments.tooth_thickness, arguments.pin)
    else:
        found = thickness_from_over_pins(teeth, arguments.over_pin, arguments.pin)
    answer = {
        "over_pin_mm": found.over_pin_mm,
        "tooth_thickness_mm": found.tooth_thickness_mm,
        "pressure_angle_at_pin_deg": found.pin_angle_deg,
        "change_factor": found.change_factor,
        "slide_gain": found.slide_gain,
        "best_pin_mm": found.best_pin_mm,
    }
    return _tell(arguments, answer)


def _add_over_wire(kinds: Commands) -> None:
    parser = command(
        kinds,
        "over-wire",
        does="size of a thread over three wires, or the pitch diameter behind it",
        more="Lengths in mm, angles in degrees. over_wire_mm is the textbook value without the lead,\n"
        "over_wire_exact_mm what the gauge shows.",
        example="  spc size over-wire --pitch 1.5 --angle 60 --pitch-diameter 9.026 --wire 0.866",
        run=_over_wire,
    )
    add_number(parser, "--pitch", "axial distance from groove to groove, mm", needed=True)
    add_number(parser, "--angle", "included angle between the flanks, degrees, 10 to 120", needed=True)
    parser.add_argument(
        "--starts", type=int, default=1, metavar="N", help="starts of the thread (default: 1)"
    )
    known = parser.add_mutually_exclusive_group(required=True)
    add_number(known, "--pitch-diameter", "pitch diameter, mm: gives the size over wires")
    add_number(known, "--over-wire", "size over the wires, mm: gives the pitch diameter, lead and all")
    add_number(parser, "--wire", "diameter of the wires, mm (default: the best wire)")
    add_number(parser, "--major-diameter", "outside diameter, mm: refuses wires that lie below the crests")
    parser.add_argument(
        "--textbook", action="store_true", help="read --over-wire by the textbook formula, without the lead"
    )
    _json(parser)


def _over_wire(arguments: argparse.Namespace) -> int:
    parser: CommandParser = arguments.parser
    if arguments.textbook and arguments.over_wire is None:
        parser.error("--textbook says how to read --over-wire; with --pitch-diameter both sizes are given")

    from spc.geometry import over_wires, pitch_diameter_over_wires, refuse_hidden_wires

    pitch, angle, wire, starts = arguments.pitch, arguments.angle, arguments.wire, arguments.starts
    if arguments.over_wire is None:
        found = over_wires(pitch, angle, arguments.pitch_diameter, wire, starts)
    else:
        found = pitch_diameter_over_wires(
            pitch, angle, arguments.over_wire, wire, starts, textbook=arguments.textbook
        )
    if arguments.major_diameter is not None:
        refuse_hidden_wires(found, arguments.major_diameter)
    keys = (
        "over_wire_mm",
        "over_wire_exact_mm",
        "pitch_diameter_mm",
        "best_wire_mm",
        "lead_angle_deg",
        "lead_correction_mm",
    )
    return _tell(arguments, {key: getattr(found, key) for key in keys})


def _add_straightness(kinds: Commands) -> None:
    parser = command(
        kinds,
        "straightness",
        does="straightness of a measured profile: minimum zone, least squares, end points",
        more="Widths in µm, measured vertically.",
        example="  spc size straightness --profile profile.csv --json",
        run=_straightness,
    )
    parser.add_argument(
        "--profile", required=True, metavar="FILE", help="CSV with position_mm (rising) and height_um"
    )
    _json(parser)


def _straightness(arguments: argparse.Namespace) -> int:
    from spc.geometry import straightness
    from spc.intake.columns_file import read_unbroken

    read = read_unbroken(arguments.profile, _PROFILE)
    with of_file(read.file):
        found = straightness(*([float(value) for value in read.number(name)] for name in _PROFILE))
    keys = (
        "minimum_zone_um",
        "least_squares_um",
        "least_squares_peak_um",
        "least_squares_valley_um",
        "end_points_um",
    )
    _tell(arguments, {key: getattr(found, key) for key in keys})
    complain_of(read.refusals)
    return 2 if read.refusals else 0


def _json(parser: CommandParser) -> None:
    parser.add_argument("--json", action="store_true", help="answer as one JSON object for another program")


_UNITS = {"_mm": "mm", "_um": "µm", "_deg": "°"}
_NAMES = {
    "over_pin_mm": "over pins",
    "pressure_angle_at_pin_deg": "pressure angle at pin centre",
    "over_wire_mm": "over wires, textbook",
    "over_wire_exact_mm": "over wires, with lead",
    "least_squares_peak_um": "above the least-squares line",
    "least_squares_valley_um": "below the least-squares line",
}


def _tell(arguments: argparse.Namespace, answer: dict[str, float | None]) -> int:
    if arguments.json:
        say_json(answer)
    else:
        say_rows([_row(key, value) for key, value in answer.items()])
    return 0


def _row(key: str, value: float | None) -> tuple[str, str]:
    """Name and value in words: `tooth_thickness_mm` becomes "tooth thickness" and "… mm"."""
    ending = next((ending for ending in _UNITS if key.endswith(ending)), "")
    name = _NAMES.get(key) or key.removesuffix(ending).replace("_", " ")
    if value is None:
        return name, "– (none touches the middle of the flank)"
    decimals = 2 if ending == "_um" else 5
    return name, f"{value:.{decimals}f} {_UNITS.get(ending, '')}".rstrip()
