"""`spc capability`: what a process can hold, once, from a file, with how far that is known."""

import argparse

from spc.cli.capability_answer import capability_answer
from spc.cli.capability_notes import MODELS
from spc.cli.one_off import exit_code, read_picked, rows_said_too
from spc.cli.parsing import Commands, add_number, add_pick, command
from spc.cli.saying import progress, say_json
from spc.shop.layouts import KINDS

__all__ = ["add_to"]

_MORE = """\
Limits and answers are in the unit of the file; indices come with the interval of the confidence asked for and the
number of pieces. "honest" holds the intervals for a mean that wanders from check to check; it stands first where
the order of the checks shows that it does. A model that is not normal has Pp and Ppk from its quantiles, no Cp and
Cpk. With auto the kind settles the model: straightness, out of round and travel variation folded normal, run-out
Rayleigh, sizes normal; another one is taken for these magnitudes where the pieces contradict it."""


def add_to(commands: Commands) -> None:
    """Add the command."""
    parser = command(
        commands,
        "capability",
        does="work out capability indices with intervals for a file of readings, once",
        more=_MORE,
        example="  spc capability --readings tests/references/piston_rings.csv --lower 73.95 --upper 74.05\n"
        "  spc capability --readings demo_data/readings.csv --machine R1 --part KS-24 --characteristic runout "
        "--kind runout --upper 0.03 --json",
        run=_run,
    )
    add_pick(parser)
    add_number(parser, "--lower", "lower tolerance limit; leave out one that does not exist")
    add_number(parser, "--upper", "upper tolerance limit")
    add_number(parser, "--target", "where the pieces should lie (default: the middle)")
    parser.add_argument("--kind", choices=KINDS, metavar="KIND", help=f"what is gauged: {', '.join(KINDS)}")
    parser.add_argument(
        "--model",
        choices=MODELS,
        default="auto",
        metavar="MODEL",
        help=f"distribution: {', '.join(MODELS)}; auto goes by the kind and tests it (default: auto)",
    )
    add_number(
        parser, "--minimum", "index that is required: says whether it is shown, not shown, or not to be told"
    )
    parser.add_argument(
        "--confidence",
        type=float,
        default=0.95,
        metavar="P",
        help="of the intervals, between 0 and 1 (default: 0.95)",
    )
    parser.add_argument(
        "--sigma-from",
        choices=("r_bar", "pooled_s"),
        default="r_bar",
        help="spread within checks: R-bar/d2 as on the chart (default), or pooled s; single pieces use MR-bar/d2",
    )


def _run(arguments: argparse.Namespace) -> int:
    read = read_picked(arguments)
    progress("Fitting and testing the model")
    with rows_said_too(read):
        answer, notes = capability_answer(read.subgroups, arguments)
    if arguments.json:
        say_json(answer)
    else:
        from spc.cli.capability_table import tell

        tell(answer, notes, read, arguments.confidence)
    return exit_code(read, arguments)
