"""`spc capability`: what a process can hold, once, from a file, with how far that is known."""

import argparse
from dataclasses import fields
from math import isfinite
from typing import TYPE_CHECKING, Any

from spc.cli.parsing import CommandParser, Commands, add_number, add_pick, command
from spc.cli.saying import complain, complain_of, say_json
from spc.errors import Refused
from spc.shop.layouts import KINDS, MAGNITUDES

if TYPE_CHECKING:
    from spc.statistics import Estimate, NormalityTest

__all__ = ["add_to"]

MODELS = ("auto", "normal")
"""Models this version computes; the other words of the answer are refused by name."""
OTHER_MODELS = ("half_normal", "folded_normal", "rayleigh", "weibull", "lognormal", "empirical")
INDICES = ("cp", "cpk", "pp", "ppk", "cpm")

_MORE = """\
Limits and answers are in the unit of the file; indices come with the interval of the confidence asked for and the
number of pieces. "honest" holds the intervals for a mean that wanders from check to check."""


def add_to(commands: Commands) -> None:
    """Add the command."""
    parser = command(
        commands,
        "capability",
        does="work out capability indices with intervals for a file of readings, once",
        more=_MORE,
        example="  spc capability --readings rings.csv --lower 73.95 --upper 74.05\n"
        "  spc capability --readings readings.csv --machine R1 --part KS-24 --characteristic straightness "
        "--kind straightness --upper 0.05 --json",
        run=_run,
    )
    add_pick(parser)
    add_number(parser, "--lower", "lower tolerance limit; leave out one that does not exist")
    add_number(parser, "--upper", "upper tolerance limit")
    add_number(parser, "--target", "where the pieces should lie (default: the middle)")
    parser.add_argument("--kind", choices=KINDS, metavar="KIND", help=f"what is gauged: {', '.join(KINDS)}")
    parser.add_argument(
        "--model",
        default="auto",
        metavar="MODEL",
        help=f"distribution: {' or '.join(MODELS)}; auto tests for normality and warns (default: auto)",
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
    _refuse_other_model(arguments)

    from spc.intake import read_subgroups

    read = read_subgroups(arguments.readings, arguments.machine, arguments.part, arguments.characteristic)
    answer = _answer(read.subgroups, arguments)
    if arguments.json:
        say_json(answer)
    else:
        from spc.cli.capability_table import tell

        tell(answer, read, arguments.confidence)
    if read.left_out_rows:
        complain(f"Left out: {read.left_out_rows} rows of checks that were not hourly.")
    complain_of(read.refusals)
    return 2 if read.refusals else 0


def _refuse_other_model(arguments: argparse.Namespace) -> None:
    parser: CommandParser = arguments.parser
    if arguments.model in MODELS:
        return
    if arguments.model not in OTHER_MODELS:
        parser.error(f"argument --model: {arguments.model!r} is no model; allowed: {', '.join(MODELS)}")
    raise Refused.one(
        "this version does not compute this model",
        value=arguments.model,
        column="--model",
        allowed=" or ".join(MODELS),
        do="With auto the answer says how far the pieces are from normal",
    )


def _answer(subgroups: tuple[tuple[float, ...], ...], arguments: argparse.Namespace) -> dict[str, Any]:
    """Return the answer for another program; an index that this tolerance does not have is null."""
    from spc.statistics import capability, honest_capability

    lower, note = _without_natural_limit(arguments)
    asked = (lower, arguments.upper, arguments.target, arguments.confidence, arguments.sigma_from)
    found, honest = capability(subgroups, *asked), honest_capability(subgroups, *asked)
    test = _normality([value for subgroup in subgroups for value in subgroup])
    quantiles = found.quantiles
    warnings = [found.warning, _doubt(test), note]
    return {
        **{
            name: getattr(found, name) for name in ("n", "subgroups", "mean", "sigma_within", "sigma_overall")
        },
        "model": "normal",
        "quantiles": {"q00135": quantiles.q00135, "q50": quantiles.q50, "q99865": quantiles.q99865},
        **{name: _estimate(getattr(found, name)) for name in INDICES},
        "fallout_ppm": found.fallout_ppm,
        "normality": {
            "anderson_darling": None if test is None else test.statistic,
            "p": None if test is None else test.p,
        },
        "honest": {
            each.name: _estimate(value) if each.name in INDICES else value
            for each in fields(honest)
            for value in (getattr(honest, each.name),)
        },
        "warning": " ".join(each for each in warnings if each) or None,
    }


def _without_natural_limit(arguments: argparse.Namespace) -> tuple[float | None, str]:
    """Leave out a lower limit of 0 that nothing can pass, and say what a magnitude does to the indices."""
    if arguments.kind == "visual":
        raise Refused.one(
            "a look has no capability index", value="visual", column="--kind", allowed="gauged kinds"
        )
    if arguments.kind not in MAGNITUDES:
        return arguments.lower, ""
    note = (
        f"{arguments.kind.replace('_', ' ').capitalize()} cannot fall below 0, so the normal model fits it badly "
        "where the mean is within three standard deviations of 0."
    )
    return (None if arguments.lower == 0 else arguments.lower), note


def _normality(values: list[float]) -> "NormalityTest | None":
    from spc.statistics import anderson_darling

    return anderson_darling(values) if len(values) >= 3 else None


def _doubt(test: "NormalityTest | None") -> str:
    """Say what the test makes of the normal model."""
    if test is None or test.p is None:
        return "Too few pieces to test the normal model: it is taken on trust."
    if test.p >= 0.05:
        return ""
    p = f"p = {test.p:.2g}" if test.p >= 1e-4 else "p under 0.0001"
    return (
        f"The normal model is doubtful ({p} for {test.n} pieces; coarse gauge steps alone can do this): "
        "do not read fallout far out from it."
    )


def _estimate(index: "Estimate | None") -> dict[str, float | None] | None:
    if index is None:
        return None
    return {name: value if isfinite(value) else None for name, value in _ends(index)}


def _ends(index: "Estimate") -> tuple[tuple[str, float], ...]:
    return ("estimate", index.estimate), ("low", index.low), ("high", index.high)
