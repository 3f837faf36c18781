"""Which grade a measured travel reaches by JIS B 1192 or ISO 3408-3, and what keeps it from the next one."""

import math
from dataclasses import dataclass

from spc.geometry.known import NOT_DEFINED, Known
from spc.geometry.travel import WINDOW_MM, Travel
from spc.geometry.travel_tolerances import GRADES, TravelTolerances, readings_needed, travel_tolerances

__all__ = ["CANNOT_BE_TOLD", "NOT_REACHED", "REACHED", "JudgedGrade", "TravelGrade", "travel_grade"]

REACHED = "reached"
NOT_REACHED = "not reached"
CANNOT_BE_TOLD = "cannot be told"
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class JudgedGrade:
    """One grade and whether a travel reaches it.

    Attributes
    ----------
    grade : str
    verdict : str
        "reached", "not reached", or "cannot be told" where one of its tolerances isn't known.
    prevents : tuple of str
        What exceeds its tolerance or isn't known, in words with numbers.
    tolerances : TravelTolerances
        What was allowed.
    """

    grade: str
    verdict: str
    prevents: tuple[str, ...]
    tolerances: TravelTolerances


@dataclass(frozen=True, slots=True)
class TravelGrade:
    """How a travel stands in the grades of one standard.

    Attributes
    ----------
    standard : str
        `jis` or `iso`; a grade says nothing without it.
    grade : str or None
        Finest grade reached; "cannot be told" where none is reached for certain and one may be; None where
        none is reached.
    grades : tuple of JudgedGrade
        All of them, the finest first.
    next_grade : str or None
        The next finer one; where none is reached, the coarsest; None where the finest is reached.
    prevents : tuple of str
        What keeps the travel from it.
    cautions : tuple of str
        What was not judged or rests on too few readings.
    """

    standard: str
    grade: str | None
    grades: tuple[JudgedGrade, ...]
    next_grade: str | None
    prevents: tuple[str, ...]
    cautions: tuple[str, ...]


def travel_grade(found: Travel, standard: str, *, lead_mm: float | None = None) -> TravelGrade:
    """Judge a measured travel by one standard.

    Parameters
    ----------
    found : Travel
        From `travel`.
    standard : {"jis", "iso"}
        JIS B 1192 series C, or ISO 3408-3.
    lead_mm : float, optional
        Lead, for the number of readings that the grade asks for.

    Returns
    -------
    TravelGrade

    Raises
    ------
    Refused
        The standard isn't known.

    Notes
    -----
    A value on its tolerance is within it. A grade one of whose tolerances isn't known cannot be told, even
    where a known one is exceeded already; that is then said beside it.

    Examples
    --------
    >>> from spc.geometry import travel
    >>> found = travel([0, 100, 200, 300, 400, 500, 600], [0, 2, 5, 4, 8, 9, 14])
    >>> judged = travel_grade(found, "jis")
    >>> judged.grade, judged.prevents
    ('C3', ('mean travel deviation 12.64 µm, allowed ±9 µm',))
    """
    grades = GRADES.get(standard, ("",))
    judged = tuple(judge(found, travel_tolerances(standard, grade, found.travel_mm)) for grade in grades)
    places = [place for place, one in enumerate(judged) if one.verdict == REACHED]
    doubtful = any(one.verdict == CANNOT_BE_TOLD for one in judged)
    best = judged[places[0]].grade if places else CANNOT_BE_TOLD if doubtful else None
    after = places[0] - 1 if places else len(judged) - 1
    following = judged[after] if after >= 0 else None
    return TravelGrade(
        standard=standard,
        grade=best,
        grades=judged,
        next_grade=None if following is None else following.grade,
        prevents=() if following is None else following.prevents,
        cautions=cautions(found, best if places else None, lead_mm),
    )


def judge(found: Travel, allowed: TravelTolerances) -> JudgedGrade:
    """Hold a travel against one grade."""
    checks: list[tuple[str, float | None, Known, str]] = [
        ("mean travel deviation", found.mean_deviation_um, allowed.mean_um, "±"),
        ("variation over the useful travel", found.variation_um, allowed.variation_um, ""),
        ("variation in 300 mm", found.variation_300_um, allowed.variation_300_um, ""),
        ("variation in a turn", found.variation_2pi_um, allowed.variation_2pi_um, ""),
        ("travel error in 300 mm", found.error_300_um, allowed.error_300_um, "±"),
    ]
    too_much, unknown = [], []
    for name, value, tolerance, sign in checks:
        if value is None or tolerance.how == NOT_DEFINED:
            continue
        if tolerance.value is None:
            unknown.append(f"tolerance of the {name} is not known")
        elif abs(value) > tolerance.value + ROUNDING:
            too_much.append(
                f"{name} {above(value, tolerance.value)} µm, allowed {sign}{tolerance.value:g} µm"
            )
    verdict = CANNOT_BE_TOLD if unknown else NOT_REACHED if too_much else REACHED
    return JudgedGrade(allowed.grade, verdict, (*too_much, *unknown), allowed)


def above(value: float, tolerance: float) -> str:
    """Write a value with as many decimals as it takes to see that it is above its tolerance."""
    decimals = next(many for many in (2, 3, 4, 6, 9) if many == 9 or abs(round(value, many)) > tolerance)
    return f"{value:.{decimals}f}"


def cautions(found: Travel, grade: str | None, lead_mm: float | None) -> tuple[str, ...]:
    """Say what was not judged, and where the readings are too few."""
    said = []
    if found.variation_2pi_um is None:
        said.append("variation in a turn not judged: no lead given")
    if found.variation_2pi_um is not None and lead_mm is not None and few_in_a_turn(found, lead_mm):
        said.append("fewer than four readings in a turn: its variation is shown too small")
    needed = readings_needed(lead_mm, int(grade[1:])) if lead_mm is not None and grade is not None else None
    if needed is not None:
        share = min(found.travel_mm / WINDOW_MM, 1.0)
        if found.least_readings_300 < math.ceil(needed * share):
            said.append(
                f"{found.least_readings_300} readings in 300 mm, grade {grade} at a lead of {lead_mm:g} mm "
                f"asks for {needed}: measure more closely"
            )
    return tuple(said)


def few_in_a_turn(found: Travel, lead_mm: float) -> bool:
    """Whether a turn holds fewer than four readings on average."""
    return lead_mm * (found.n - 1) / found.travel_mm < 4.0 - ROUNDING
