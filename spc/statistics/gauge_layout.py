"""Readings of a gauge study laid out as parts by appraisers by trials, or refused with what is missing."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

import numpy as np
import numpy.typing as npt

from spc.errors import Refusal, Refused

__all__ = ["GaugeLayout", "GaugeReading", "gauge_layout"]


@dataclass(frozen=True, slots=True)
class GaugeReading:
    """One reading of a gauge study.

    Attributes
    ----------
    appraiser, part : str
        Who gauged which piece.
    value : float
        In one unit for the whole study.
    """

    appraiser: str
    part: str
    value: float


@dataclass(frozen=True, slots=True, eq=False)
class GaugeLayout:
    """A crossed study: every appraiser gauged every part equally often.

    Attributes
    ----------
    appraisers, parts : tuple of str
        In the order they first appear.
    values : ndarray, shape (parts, appraisers, trials)
        Read-only.
    """

    appraisers: tuple[str, ...]
    parts: tuple[str, ...]
    values: npt.NDArray[np.float64]

    @property
    def trials(self) -> int:
        """Readings by one appraiser of one part."""
        return int(self.values.shape[2])


def gauge_layout(readings: Sequence[GaugeReading], *, least_appraisers: int = 1) -> GaugeLayout:
    """Lay readings out for a gauge study.

    Parameters
    ----------
    readings : sequence of GaugeReading
        In any order; trials count in the order they come.
    least_appraisers : int
        Fewest appraisers the asking method can use.

    Returns
    -------
    GaugeLayout
        Complete and balanced.

    Raises
    ------
    Refused
        A reading that is not finite; too few appraisers, parts or trials; cells with fewer readings than others;
        readings that are all equal.
    """
    cells: dict[tuple[str, str], list[float]] = defaultdict(list)
    for reading in readings:
        cells[reading.part, reading.appraiser].append(float(reading.value))
    appraisers = tuple(dict.fromkeys(reading.appraiser for reading in readings))
    parts = tuple(dict.fromkeys(reading.part for reading in readings))
    found = _not_finite(readings) + _too_few(appraisers, parts, cells, least_appraisers)
    found = found or _uneven(appraisers, parts, cells)
    if not found and len({reading.value for reading in readings}) == 1:
        found = [
            Refusal(
                "all readings are equal, so the gauge shows no spread at all",
                value=f"{readings[0].value:g}",
                do="Gauge parts that differ, with a gauge that reads finer",
            )
        ]
    if found:
        raise Refused(found)
    values = np.array([[cells[part, appraiser] for appraiser in appraisers] for part in parts])
    values.setflags(write=False)
    return GaugeLayout(appraisers, parts, values)


def _not_finite(readings: Sequence[GaugeReading]) -> list[Refusal]:
    return [
        Refusal(
            "the reading is missing or not finite",
            value=str(reading.value),
            column=f"part {reading.part}, appraiser {reading.appraiser}",
            do="Gauge it again",
        )
        for reading in readings
        if not isfinite(reading.value)
    ]


def _too_few(
    appraisers: tuple[str, ...],
    parts: tuple[str, ...],
    cells: dict[tuple[str, str], list[float]],
    least_appraisers: int,
) -> list[Refusal]:
    found = []
    trials = max(map(len, cells.values()), default=0)
    wanted = (
        ("appraisers", len(appraisers), least_appraisers),
        ("parts", len(parts), 2),
        ("trials", trials, 2),
    )
    for what, got, least in wanted:
        if got < least:
            found.append(
                Refusal(
                    f"too few {what} for this gauge study",
                    value=str(got),
                    allowed=f"{least} or more; 10 parts, 3 appraisers and 3 trials are usual",
                )
            )
    return found


def _uneven(
    appraisers: tuple[str, ...], parts: tuple[str, ...], cells: dict[tuple[str, str], list[float]]
) -> list[Refusal]:
    trials = max(len(values) for values in cells.values())
    return [
        Refusal(
            "this appraiser gauged this part less often than others",
            value=str(len(cells.get((part, appraiser), ()))),
            column=f"part {part}, appraiser {appraiser}",
            allowed=f"{trials} readings of every part by every appraiser",
            do="Gauge the missing ones, or leave the part out",
        )
        for part in parts
        for appraiser in appraisers
        if len(cells.get((part, appraiser), ())) < trials
    ]
