"""Decisions with the gauge's uncertainty kept in mind: in, out, or cannot be told."""

from dataclasses import dataclass
from math import inf, isfinite
from typing import Literal

from scipy.special import ndtr, ndtri

from spc.errors import Refused
from spc.statistics.sound_arguments import want_above_zero

__all__ = ["Decision", "GuardZone", "GuardedDecision", "conformance_chance", "guard_zone", "guarded_decision"]

Decision = Literal["in", "out", "cannot be told"]


@dataclass(frozen=True, slots=True)
class GuardZone:
    """Readings that prove a piece good, and readings that prove it bad.

    Attributes
    ----------
    in_low, in_high : float or None
        From here to there a reading proves "in"; both None where the gauge can prove no piece good.
    out_below, out_above : float
        A reading beyond proves "out"; -inf or inf where there is no limit.
    u : float
        Standard uncertainty of a reading.
    level : float
        Chance of being right asked for at the edge of a zone.
    method : str
        Which rule.
    """

    in_low: float | None
    in_high: float | None
    out_below: float
    out_above: float
    u: float
    level: float
    method: str


@dataclass(frozen=True, slots=True)
class GuardedDecision:
    """What a reading says about a piece.

    Attributes
    ----------
    decision : {"in", "out", "cannot be told"}
        By the zone.
    conformance : float
        Chance that the piece is inside its limits, for this reading alone.
    zone : GuardZone
        What it was judged by.
    says : str
        In one sentence.
    """

    decision: Decision
    conformance: float
    zone: GuardZone
    says: str


def guarded_decision(
    value: float,
    lower: float | None,
    upper: float | None,
    u: float,
    *,
    level: float = 0.95,
    coverage: float | None = None,
) -> GuardedDecision:
    """Say whether a reading proves a piece good or bad, for whoever releases or rejects on it.

    Parameters
    ----------
    value : float
        Reading corrected for known bias, in the unit of the limits.
    lower, upper : float or None
        Tolerance limits, at least one.
    u : float
        Standard uncertainty of a reading, above 0.
    level, coverage : float
        As in `guard_zone`.

    Returns
    -------
    GuardedDecision
        With the chance of conformance by JCGM 106 (normal, nothing known of the process).

    Raises
    ------
    Refused
        A reading that is not finite, no limits, limits the wrong way round, an uncertainty not above 0.

    References
    ----------
    ISO 14253-1:2017; JCGM 106:2012 (both from memory).

    Examples
    --------
    >>> guarded_decision(10.046, 9.950, 10.050, 0.003).decision
    'cannot be told'
    """
    if not isfinite(value):
        raise Refused.one("the reading is missing or not finite", value=str(value), do="Gauge it again")
    zone = guard_zone(lower, upper, u, level=level, coverage=coverage)
    chance = conformance_chance(value, lower, upper, u)
    decision: Decision = "cannot be told"
    if zone.in_low is not None and zone.in_high is not None and zone.in_low <= value <= zone.in_high:
        decision = "in"
    elif value < zone.out_below or value > zone.out_above:
        decision = "out"
    words = {
        "in": "proves the piece inside",
        "out": "proves the piece outside",
        "cannot be told": "is too near a limit to tell",
    }
    says = f"{value:g} {words[decision]}: {100 * min(max(chance, 1e-4), 0.9999):.3g} % sure that it conforms."
    return GuardedDecision(decision, chance, zone, says)


def guard_zone(
    lower: float | None,
    upper: float | None,
    u: float,
    *,
    level: float = 0.95,
    coverage: float | None = None,
) -> GuardZone:
    """Zones of readings that prove conformity and non-conformity, for a chart or a decision.

    Parameters
    ----------
    lower, upper : float or None
        Tolerance limits, at least one; lower below upper.
    u : float
        Standard uncertainty of a reading, above 0.
    level : float
        Chance of a right decision at the edge of a zone, above 0.5 below 1 (2017 edition: 0.95).
    coverage : float, optional
        With it the rule of the editions up to 2013: both guard bands are coverage · u, usually 2.

    Returns
    -------
    GuardZone
        By default exact for two-sided limits: the chance of conformance is `level` at the ends of "in" and
        1 - level at those of "out". Far limits give 1.645 u each.

    Raises
    ------
    Refused
        No limits, limits the wrong way round, an uncertainty not above 0, a level out of range.

    References
    ----------
    ISO 14253-1:2013 and :2017 (from memory); JCGM 106:2012, clause 8.3 (from memory).

    Examples
    --------
    >>> zone = guard_zone(9.950, 10.050, 0.003)
    >>> round(zone.in_low, 6), round(zone.in_high, 6)
    (9.954935, 10.045065)
    """
    _check(lower, upper, u, level)
    low, high = -inf if lower is None else lower, inf if upper is None else upper
    if coverage is not None:
        want_above_zero(coverage=coverage)
        band = coverage * u
        fits = low + band <= high - band
        return GuardZone(
            in_low=low + band if fits else None,
            in_high=high - band if fits else None,
            out_below=low - band,
            out_above=high + band,
            u=u,
            level=level,
            method=f"guard bands of {coverage:g} u",
        )
    inner = _edge(low, high, u, level)
    outer = _edge(low, high, u, 1.0 - level)
    return GuardZone(
        in_low=None if inner is None else low - inner,
        in_high=None if inner is None else high + inner,
        out_below=low - (0.0 if outer is None else outer),
        out_above=high + (0.0 if outer is None else outer),
        u=u,
        level=level,
        method=f"chance of conformance {level:g}, normal",
    )


def conformance_chance(value: float, lower: float | None, upper: float | None, u: float) -> float:
    """Chance that a piece lies inside its limits, given one reading.

    Examples
    --------
    >>> round(conformance_chance(10.046, 9.950, 10.050, 0.003), 6)
    0.908789
    """
    above = -inf if lower is None else (lower - value) / u
    below = inf if upper is None else (upper - value) / u
    if above > 0.0:  # both far out on one side: tails lose no digits when taken from the near end
        return float(ndtr(-above) - ndtr(-below))
    return float(ndtr(below) - ndtr(above))


def _check(lower: float | None, upper: float | None, u: float, level: float) -> None:
    if lower is None and upper is None:
        raise Refused.one("a decision wants a limit", do="Give the lower or the upper limit, or both")
    for name, limit in (("lower", lower), ("upper", upper)):
        if limit is not None and not isfinite(limit):
            raise Refused.one(
                "the limit is not finite",
                value=str(limit),
                column=name,
                do="Leave out a limit that does not exist",
            )
    if lower is not None and upper is not None and not lower < upper:
        raise Refused.one(
            "the lower limit is not below the upper", value=f"{lower:g}, {upper:g}", do="Change them round"
        )
    if not (isfinite(u) and u > 0.0):
        raise Refused.one(
            "the standard uncertainty must be above 0", value=str(u), column="u", allowed="above 0"
        )
    if not 0.5 < level < 1.0:
        raise Refused.one("the level is out of range", value=str(level), allowed="above 0.5, below 1")


def _edge(low: float, high: float, u: float, level: float) -> float | None:
    """Distance outwards from a limit at which the chance of conformance is `level`; None where it never is."""
    from scipy.optimize import brentq

    if low == -inf or high == inf:
        return -float(ndtri(level)) * u
    half = (high - low) / 2.0

    def miss(outward: float) -> float:
        return conformance_chance(high + outward, low, high, u) - level

    if miss(-half) < 0.0:
        return None
    return float(brentq(miss, -half, 40.0 * u, xtol=1e-12 * (high - low + u)))
