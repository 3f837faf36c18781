"""What a grade of JIS B 1192 or ISO 3408-3 allows over a useful travel, each figure with how it is known."""

from collections.abc import Mapping
from dataclasses import dataclass

from spc.errors import Refused
from spc.geometry import travel_tables as table
from spc.geometry.known import FROM_MEMORY, NOT_DEFINED, NOT_KNOWN, READ, Known

__all__ = ["GRADES", "TravelTolerances", "excess_travel_mm", "readings_needed", "travel_tolerances"]

GRADES = {
    "jis": ("C0", "C1", "C3", "C5", "C7", "C10"),
    "iso": ("P0", "P1", "P2", "P3", "P4", "P5", "T7", "T10"),
}
"""Grades each standard itself knows, the finest first."""

NONE = Known(None, NOT_DEFINED)


@dataclass(frozen=True, slots=True)
class TravelTolerances:
    """Tolerances of one grade over one useful travel, µm.

    Attributes
    ----------
    standard, grade : str
        `jis` or `iso`, and the grade.
    travel_mm : float
        Useful travel they hold for.
    mean_um : Known
        Mean travel deviation, ±.
    variation_um, variation_300_um, variation_2pi_um : Known
        Width of the band over the useful travel, any 300 mm, any turn.
    error_300_um : Known
        Travel error in any 300 mm, ±, of the grades that limit nothing else.
    makers_addition : bool
        The standard doesn't know this grade.
    """

    standard: str
    grade: str
    travel_mm: float
    mean_um: Known
    variation_um: Known
    variation_300_um: Known
    variation_2pi_um: Known
    error_300_um: Known
    makers_addition: bool

    @property
    def is_partly_remembered(self) -> bool:
        """Whether any of its figures was not seen in print."""
        figures = (
            self.mean_um, self.variation_um, self.variation_300_um, self.variation_2pi_um, self.error_300_um,
        )  # fmt: skip
        return any(figure.how == FROM_MEMORY for figure in figures)


def travel_tolerances(standard: str, grade: str, travel_mm: float) -> TravelTolerances:
    """Look up what a grade allows; the two standards are never mixed.

    Parameters
    ----------
    standard : {"jis", "iso"}
        JIS B 1192 series C, or ISO 3408-3.
    grade : str
        C0, C1, C3, C5, C7, C10 (and the makers' C2, C8); P0 to P5, T7, T10.
    travel_mm : float
        Useful travel, above 0. A row of the tables goes over its lower up to and including its upper end.

    Returns
    -------
    TravelTolerances

    Raises
    ------
    Refused
        The standard or the grade isn't known.

    Examples
    --------
    >>> travel_tolerances("jis", "C3", 600.0).mean_um
    Known(value=16.0, how='read')
    >>> travel_tolerances("iso", "P2", 600.0).variation_um
    Known(value=None, how='not known')
    """
    if standard not in GRADES:
        raise Refused.one("unknown standard of travel", value=standard, allowed="jis, iso")
    extra = table.JIS_MAKERS_ADDITIONS if standard == "jis" else ()
    if grade not in (*GRADES[standard], *extra):
        raise Refused.one(
            "this standard has no such grade",
            value=grade,
            column="grade",
            allowed=", ".join(GRADES[standard]),
        )
    found = jis if standard == "jis" else iso
    mean, variation, in_300, in_turn, error = found(grade, travel_mm)
    return TravelTolerances(
        standard, grade, travel_mm, mean, variation, in_300, in_turn, error, grade in extra
    )


def jis(grade: str, travel_mm: float) -> tuple[Known, Known, Known, Known, Known]:
    """Look up JIS B 1192, series C."""
    row = row_of(travel_mm, table.JIS_UP_TO_MM)
    mean, variation = NONE, NONE
    if grade in table.JIS_BY_TRAVEL:
        mean, variation = (
            cell(column, row, READ if row is not None and row < table.JIS_ROWS_READ else FROM_MEMORY)
            for column in table.JIS_BY_TRAVEL[grade]
        )
        if row is not None and (grade, table.JIS_UP_TO_MM[row]) in table.JIS_MEANS_READ_BEYOND:
            mean = Known(mean.value, READ)
    in_300 = by_grade(table.JIS_300, grade, table.JIS_300_READ)
    return (
        mean,
        variation,
        in_300,
        by_grade(table.JIS_2PI, grade),
        by_grade(table.JIS_ERROR_300, grade, GRADES["jis"]),
    )


def iso(grade: str, travel_mm: float) -> tuple[Known, Known, Known, Known, Known]:
    """Look up ISO 3408-3; a transport grade allows twice its 300 mm for each 300 mm (from memory)."""
    in_300, in_turn = by_grade(table.ISO_300, grade, table.ISO_300_READ), by_grade(table.ISO_2PI, grade)
    if grade == "P0":
        in_300 = Known(None, NOT_KNOWN)  # 3.5 and 4 are both remembered
    if grade.startswith("T"):
        mean = Known(2 * travel_mm / 300.0 * (in_300.value or 0.0), FROM_MEMORY)
        return mean, NONE, in_300, in_turn, NONE
    row = row_of(travel_mm, table.ISO_UP_TO_MM)
    mean = cell(table.ISO_MEAN[grade], row, READ if grade == "P5" else FROM_MEMORY)
    variation = cell(table.ISO_VARIATION.get(grade, ()), row, FROM_MEMORY)
    if row is not None and ("mean", grade, table.ISO_UP_TO_MM[row]) in table.ISO_READ_CELLS:
        mean = Known(mean.value, READ)
    if row is not None and ("variation", grade, table.ISO_UP_TO_MM[row]) in table.ISO_READ_CELLS:
        variation = Known(variation.value, READ)
    return mean, variation, in_300, in_turn, NONE


def row_of(travel_mm: float, up_to_mm: tuple[int, ...]) -> int | None:
    """Return the row of a useful travel; None beyond the table."""
    return next((place for place, limit in enumerate(up_to_mm) if travel_mm <= limit), None)


def cell(column: tuple[float | None, ...], row: int | None, how: str) -> Known:
    """Return one cell; an empty one and one beyond the table are not known."""
    value = column[row] if row is not None and row < len(column) else None
    return Known(None, NOT_KNOWN) if value is None else Known(float(value), how)


def by_grade(figures: Mapping[str, float], grade: str, read: tuple[str, ...] = ()) -> Known:
    """Return a figure that depends on the grade alone."""
    if grade not in figures:
        return NONE
    return Known(float(figures[grade]), READ if grade in read else FROM_MEMORY)


def readings_needed(lead_mm: float, grade: int) -> int | None:
    """Least readings in any 300 mm for a grade's number; None where the table gives none.

    Parameters
    ----------
    lead_mm : float
        Lead. Between two rows of the table the shorter lead's row is taken, which asks for more; below 2.5 mm
        that of 2.5 mm.
    grade : int
        0 to 10. Between two columns the finer one is taken; 0 as 1, 10 as 9.

    Examples
    --------
    >>> readings_needed(5.0, 3), readings_needed(12.0, 5)
    (10, 3)
    """
    rows = [lead for lead in table.LEAST_READINGS if lead <= lead_mm] or [min(table.LEAST_READINGS)]
    columns = [place for place, number in enumerate(table.READING_GRADES) if number <= max(grade, 1)]
    return table.LEAST_READINGS[max(rows)][columns[-1]] or None


def excess_travel_mm(lead_mm: float) -> float:
    """Longest stretch at each end of a screw that the useful travel may leave out.

    Between two rows of the table the shorter lead's row is taken, which leaves out less.

    Examples
    --------
    >>> excess_travel_mm(10.0)
    40.0
    """
    rows = [lead for lead in table.EXCESS_TRAVEL if lead <= lead_mm] or [min(table.EXCESS_TRAVEL)]
    return float(table.EXCESS_TRAVEL[max(rows)])
