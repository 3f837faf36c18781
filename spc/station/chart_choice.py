"""Choose the chart: a plain one, an EWMA or a CUSUM, for a wanted false-alarm rate and a step worth finding."""

from dataclasses import dataclass
from functools import lru_cache
from math import ceil, isfinite, sqrt
from statistics import NormalDist

from spc.errors import Refused
from spc.statistics import (
    RULE_SETS,
    RunLengthLaw,
    cusum_law,
    design_cusum,
    design_ewma,
    ewma_law,
    rules_law,
    shewhart_law,
)

__all__ = ["ChartChoice", "ChartOffer", "chart_choice"]

_EWMA_SHIFTS = (0.25, 4.0)
_SLACKS = (0.1, 2.0)
_WORTH = 0.8
"""A chart with a memory is worth its trouble where it saves a fifth of the wait (common practice, no source)."""
_SOON = 1.5
_NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class ChartOffer:
    """One chart with its constants.

    Attributes
    ----------
    name, constants : str
        In words, constants in standard deviations of the plotted mean.
    in_control, step : RunLengthLaw
        Checks up to a signal with nothing wrong, and after the step.
    """

    name: str
    constants: str
    in_control: RunLengthLaw
    step: RunLengthLaw


@dataclass(frozen=True, slots=True)
class ChartChoice:
    """The charts side by side, and the sentence that says which is worth it.

    Attributes
    ----------
    n : int
        Pieces a check.
    shift_sigma : float
        The step in standard deviations of the mean of a check.
    offers : tuple of ChartOffer
        The plain chart as the station judges by it, a plain chart with the wanted rate, EWMA, CUSUM.
    """

    n: int
    sigma_um: float
    step_um: float
    checks_between: float
    shift_sigma: float
    offers: tuple[ChartOffer, ...]
    says: str


@lru_cache(maxsize=64)
def chart_choice(n: int, sigma_um: float, step_um: float, checks_between: float) -> ChartChoice:
    """Compare the charts for whoever writes a plan.

    Parameters
    ----------
    n : int
        Pieces a check, 1 or more.
    sigma_um : float
        Spread of one piece within a check, above 0, µm.
    step_um : float
        The lasting step of the mean worth finding, above 0, µm.
    checks_between : float
        Wanted mean number of checks between false alarms, 20 to 10,000.

    Returns
    -------
    ChartChoice
        EWMA with limits of the long run and the weight that finds the step soonest, CUSUM with K half the
        step. All from a fresh start, with independent checks and limits known exactly. The two are designed
        for a step of 0.25 to 4 standard deviations of the mean; a larger one is found at once anyway.

    Raises
    ------
    Refused
        No pieces, spread or step, a rate out of range, or a step too small for so few pieces.

    Examples
    --------
    >>> choice = chart_choice(5, 5.0, 2.5, 370)
    >>> [round(offer.step.mean_points, 1) for offer in choice.offers[2:]]
    [8.1, 8.3]
    """
    _check(n, sigma_um, step_um, checks_between)
    shift = step_um / (sigma_um / sqrt(n))
    if shift < _EWMA_SHIFTS[0]:
        pieces = max(n + 1, ceil((0.25 * sigma_um / step_um) ** 2))
        raise Refused.one(
            "so small a step drowns in the spread of the pieces, whatever the chart",
            value=f"{step_um:g} µm",
            allowed=f"{0.25 * sigma_um / sqrt(n):.2g} µm or more with {n} piece{'' if n == 1 else 's'} a check",
            do=f"Take a larger step, or about {pieces} pieces a check",
        )
    offers = (
        ChartOffer(
            "plain limits and nine on one side, as judged here",
            "limits at 3 σ",
            rules_law(RULE_SETS["house"]),
            rules_law(RULE_SETS["house"], shift),
        ),
        _plain(shift, checks_between),
        _ewma(shift, checks_between),
        _cusum(shift, checks_between),
    )
    return ChartChoice(
        n, sigma_um, step_um, checks_between, shift, offers, _says(offers, step_um, checks_between)
    )


def _check(n: int, sigma_um: float, step_um: float, checks_between: float) -> None:
    if n < 1:
        raise Refused.one("a check wants at least one piece", value=str(n), allowed="1 or more")
    for name, value in (("spread of one piece", sigma_um), ("step worth finding", step_um)):
        if not (isfinite(value) and value > 0.0):
            raise Refused.one(f"the {name} must be above 0", value=str(value), allowed="a size in µm")
    if not 20.0 <= checks_between <= 10_000.0:
        raise Refused.one(
            "the wanted number of checks between false alarms is out of range",
            value=f"{checks_between:g}",
            allowed="20 to 10,000; 370 is that of plain limits at 3 σ",
        )


def _ewma(shift: float, checks_between: float) -> ChartOffer:
    design = design_ewma(checks_between, shift_sigma=min(shift, _EWMA_SHIFTS[1]), limits="constant")
    return ChartOffer(
        "EWMA",
        f"weight {design.weight:.2f}, limits at {design.width:.2f} σ of the smoothed mean",
        design.in_control,
        ewma_law(shift, 0.0, design.weight, design.width, "constant"),
    )


def _cusum(shift: float, checks_between: float) -> ChartOffer:
    slack = min(max(shift / 2.0, _SLACKS[0]), _SLACKS[1])
    design = design_cusum(checks_between, slack)
    return ChartOffer(
        "CUSUM",
        f"K {design.slack:.2f} σ, H {design.decision:.2f} σ",
        design.in_control,
        cusum_law(shift, 0.0, design.slack, design.decision),
    )


def _plain(shift: float, checks_between: float) -> ChartOffer:
    width = -_NORMAL.inv_cdf(0.5 / checks_between)
    return ChartOffer(
        "plain limits alone, set to the wanted rate",
        f"limits at {width:.2f} σ",
        shewhart_law(width=width),
        shewhart_law(shift, width=width),
    )


def _says(offers: tuple[ChartOffer, ...], step_um: float, checks_between: float) -> str:
    plain = offers[1].step.mean_points
    best = min(offers[2:], key=lambda offer: offer.step.mean_points)
    soon = best.step.mean_points
    same = f"With one false alarm in about {checks_between:,.0f} checks, a step of {step_um:g} µm"
    if soon > _WORTH * plain or plain < _SOON:
        return f"{same} is found by plain limits after {_checks(plain)} on average: nothing else is needed."
    return (
        f"{same} is found by an {best.name} after {_checks(soon)} on average, by plain limits after "
        f"{_checks(plain)}: a chart that remembers is worth it."
    ).replace("an CUSUM", "a CUSUM")


def _checks(points: float) -> str:
    return "1 check" if points < 1.05 else f"{points:.1f} checks"
