"""Limits of external metric threads by ISO 965-1: from M 10 × 1.5 - 6g to pitch and major diameter."""

import math
import re
from dataclasses import dataclass
from itertools import pairwise

from spc.errors import Refusal, Refused
from spc.geometry.known import FROM_MEMORY, READ, Known
from spc.geometry.metric_thread_table import (
    BY_PITCH_UM,
    DIAMETER_STEPS_MM,
    GRADES,
    MAJOR_GRADES,
    PITCH_DIAMETER_UM,
    READ_CELLS,
    READ_DEVIATIONS,
    READ_MAJORS,
)

__all__ = ["MetricThreadLimits", "metric_thread_limits"]

CLASS = re.compile(r"([3-9])([efgh])(?:([468])([efgh]))?")
PITCH_DEPTH = 3 * math.sqrt(3) / 8  # from major to pitch diameter, in pitches


@dataclass(frozen=True, slots=True)
class MetricThreadLimits:
    """Limits of an external metric thread, rounded to 1 µm as the standard prints them.

    Attributes
    ----------
    major_mm, pitch_mm, thread_class
        What was asked for.
    pitch_diameter_basic_mm : float
        Pitch diameter of the basic profile.
    pitch_diameter_max_mm, pitch_diameter_min_mm, major_max_mm, major_min_mm : float
        The limits.
    pitch_diameter_tolerance_um, major_tolerance_um, pitch_deviation_um, major_deviation_um : Known
        Tolerances and fundamental deviations (0 or less), with how each is known.
    """

    major_mm: float
    pitch_mm: float
    thread_class: str
    pitch_diameter_basic_mm: float
    pitch_diameter_max_mm: float
    pitch_diameter_min_mm: float
    major_max_mm: float
    major_min_mm: float
    pitch_diameter_tolerance_um: Known
    major_tolerance_um: Known
    pitch_deviation_um: Known
    major_deviation_um: Known


def metric_thread_limits(major_mm: float, pitch_mm: float, thread_class: str = "6g") -> MetricThreadLimits:
    """Look up the limits of an external metric thread for a plan written from a drawing.

    Parameters
    ----------
    major_mm : float
        Nominal diameter, over 0.99 up to 90.
    pitch_mm : float
        Pitch, one that the table has for this diameter.
    thread_class : str
        Grade and position of the pitch diameter, then those of the major diameter where they differ: `6g`,
        `4g6g`, `6h`.

    Returns
    -------
    MetricThreadLimits

    Raises
    ------
    Refused
        The class is none, or the table has no such pitch, grade or position there.

    Notes
    -----
    Limits of the pitch diameter come from d − 0.649519 P, rounded to 1 µm before the tolerances come off, as
    the tables do. The tables are kept, not the rules behind them, because their rounding isn't always nearest.

    References
    ----------
    ISO 965-1, tables of T_d2, T_d and es: from memory; single cells read, see each figure's mark.

    Examples
    --------
    >>> thread = metric_thread_limits(10, 1.5, "6g")
    >>> thread.pitch_diameter_max_mm, thread.pitch_diameter_min_mm, thread.major_max_mm, thread.major_min_mm
    (8.994, 8.862, 9.968, 9.732)
    """
    parsed = CLASS.fullmatch(thread_class.strip())
    if parsed is None:
        raise Refused.one(
            "this is no class of an external thread",
            value=thread_class,
            column="class",
            allowed="grade 3 to 9 and position e, f, g or h, as 6g, 4g6g, 6h",
        )
    grade, position, major_grade, major_position = parsed.groups()
    tolerance = pitch_tolerance(major_mm, pitch_mm, int(grade))
    major_tolerance = tolerance_of_major(pitch_mm, int(major_grade or grade))
    deviation = deviation_of(pitch_mm, position)
    major_deviation = deviation_of(pitch_mm, major_position or position)
    basic = round(major_mm - PITCH_DEPTH * pitch_mm, 3)
    top, outside = basic + micro(deviation), major_mm + micro(major_deviation)
    return MetricThreadLimits(
        major_mm=major_mm,
        pitch_mm=pitch_mm,
        thread_class=thread_class.strip(),
        pitch_diameter_basic_mm=basic,
        pitch_diameter_max_mm=round(top, 3),
        pitch_diameter_min_mm=round(top - micro(tolerance), 3),
        major_max_mm=round(outside, 3),
        major_min_mm=round(outside - micro(major_tolerance), 3),
        pitch_diameter_tolerance_um=tolerance,
        major_tolerance_um=major_tolerance,
        pitch_deviation_um=deviation,
        major_deviation_um=major_deviation,
    )


def micro(figure: Known) -> float:
    """Return a known figure of µm in mm."""
    return (figure.value or 0.0) / 1000


def pitch_tolerance(major_mm: float, pitch_mm: float, grade: int) -> Known:
    """Look up the tolerance of the pitch diameter."""
    steps = pairwise(DIAMETER_STEPS_MM)
    step = next((high for low, high in steps if low < major_mm <= high), None)
    if step is None:
        raise Refused.one(
            "the table of thread tolerances ends before this diameter",
            value=f"{major_mm:g} mm",
            column="major diameter",
            allowed=f"over {DIAMETER_STEPS_MM[0]:g} up to {DIAMETER_STEPS_MM[-1]:g} mm",
        )
    row = PITCH_DIAMETER_UM[step]
    if pitch_mm not in row:
        raise Refused.one(
            "the table has no thread of this pitch at this diameter",
            value=f"{major_mm:g} × {pitch_mm:g}",
            column="pitch",
            allowed=", ".join(f"{pitch:g}" for pitch in row),
        )
    value = row[pitch_mm][GRADES.index(grade)]
    refuse_gap(value, pitch_mm, f"grade {grade} of the pitch diameter")
    return Known(float(value), READ if (step, pitch_mm, grade) in READ_CELLS else FROM_MEMORY)


def tolerance_of_major(pitch_mm: float, grade: int) -> Known:
    """Look up the tolerance of the major diameter."""
    if grade not in MAJOR_GRADES:
        raise Refused.one(
            f"the major diameter has no grade {grade}",
            value=f"{grade}",
            column="class",
            allowed="4, 6 or 8, written behind that of the pitch diameter, as 5g6g",
        )
    value = BY_PITCH_UM[pitch_mm][0][MAJOR_GRADES.index(grade)]
    refuse_gap(value, pitch_mm, f"grade {grade} of the major diameter")
    return Known(float(value), READ if grade == 6 and pitch_mm in READ_MAJORS else FROM_MEMORY)


def deviation_of(pitch_mm: float, position: str) -> Known:
    """Look up the fundamental deviation; 0 or less."""
    if position == "h":
        return Known(0.0, READ)
    value = BY_PITCH_UM[pitch_mm][1]["efg".index(position)]
    refuse_gap(value, pitch_mm, f"position {position}")
    return Known(-float(value), READ if position == "g" and pitch_mm in READ_DEVIATIONS else FROM_MEMORY)


def refuse_gap(value: int, pitch_mm: float, what: str) -> None:
    """Refuse a cell that the table leaves empty."""
    if not value:
        said = Refusal(f"the table has no {what} at this pitch", f"{pitch_mm:g} mm", column="class")
        raise Refused([said])
