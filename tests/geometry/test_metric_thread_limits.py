"""ISO 965-1 limits: cells read on public charts that restate the standard, others from memory.

Read: M10 × 1.5 (a page that restates ISO 965-1:1998), M2, M3, M4 (a public metric external thread chart). From
memory: M8, M12, M16, M20; of M6 the largest pitch diameter was read.
"""

import pytest

from spc.errors import Refused
from spc.geometry import FROM_MEMORY, READ, metric_thread_limits, over_wires
from spc.geometry.metric_thread_table import BY_PITCH_UM, DIAMETER_STEPS_MM, PITCH_DIAMETER_UM

CASES = [
    (10, 1.5, "6g", 8.994, 8.862, 132, -32, 9.968, 9.732),
    (2, 0.4, "6g", 1.721, 1.654, 67, -19, 1.981, 1.886),
    (2, 0.4, "4g6g", 1.721, 1.679, 42, -19, 1.981, 1.886),
    (3, 0.5, "6g", 2.655, 2.580, 75, -20, 2.980, 2.874),
    (3, 0.5, "4g6g", 2.655, 2.607, 48, -20, 2.980, 2.874),
    (4, 0.7, "6g", 3.523, 3.433, 90, -22, 3.978, 3.838),
    (4, 0.7, "4g6g", 3.523, 3.467, 56, -22, 3.978, 3.838),
    (4, 0.7, "6h", 3.545, 3.455, 90, 0, 4.000, 3.860),
    (6, 1.0, "6g", 5.324, 5.212, 112, -26, 5.974, 5.794),
    (8, 1.25, "6g", 7.160, 7.042, 118, -28, None, None),
    (12, 1.75, "6g", 10.829, 10.679, 150, -34, None, None),
    (16, 2.0, "6g", 14.663, 14.503, 160, -38, None, None),
    (20, 2.5, "6g", 18.334, 18.164, 170, -42, None, None),
]


@pytest.mark.parametrize(("major", "pitch", "grade", "high", "low", "width", "es", "top", "bottom"), CASES)
def test_published_limits(major, pitch, grade, high, low, width, es, top, bottom) -> None:
    found = metric_thread_limits(major, pitch, grade)
    assert (found.pitch_diameter_max_mm, found.pitch_diameter_min_mm) == (high, low)
    assert (found.pitch_diameter_tolerance_um.value, found.pitch_deviation_um.value) == (width, es)
    if top is not None:
        assert (found.major_max_mm, found.major_min_mm) == (top, bottom)


def test_basic_pitch_diameter_of_M10() -> None:
    assert metric_thread_limits(10, 1.5).pitch_diameter_basic_mm == 9.026


def test_each_figure_says_how_it_is_known() -> None:
    read, remembered = metric_thread_limits(10, 1.5, "6g"), metric_thread_limits(12, 1.75, "6g")
    assert read.pitch_diameter_tolerance_um.how == read.pitch_deviation_um.how == READ
    assert remembered.pitch_diameter_tolerance_um.how == remembered.major_tolerance_um.how == FROM_MEMORY


def test_the_table_keeps_the_rule_within_its_rounding() -> None:
    """90 P^0.4 d^0.1, d the mean of the step's ends; grades as ×0.5, 0.63, 0.8, 1, 1.25, 1.6, 2 (from memory)."""
    below = dict(zip(DIAMETER_STEPS_MM[1:], DIAMETER_STEPS_MM, strict=False))
    for high, rows in PITCH_DIAMETER_UM.items():
        for pitch, cells in rows.items():
            grade_6 = 90 * pitch**0.4 * ((high * below[high]) ** 0.5) ** 0.1
            for cell, share in zip(cells, (0.5, 0.63, 0.8, 1.0, 1.25, 1.6, 2.0), strict=True):
                assert cell == 0 or cell == pytest.approx(share * grade_6, rel=0.06)
    for pitch, (major, deviations) in BY_PITCH_UM.items():
        assert major[1] == pytest.approx(180 * pitch ** (2 / 3) - 3.15 * pitch**-0.5, rel=0.055)
        assert deviations[2] == pytest.approx(15 + 11 * pitch, abs=1.5)


def test_limits_over_wires_follow() -> None:
    """A plan over wires from the class: textbook sizes of the two limits differ by the tolerance."""
    found = metric_thread_limits(10, 1.5)
    high, low = (
        over_wires(1.5, 60, size) for size in (found.pitch_diameter_max_mm, found.pitch_diameter_min_mm)
    )
    assert high.over_wire_mm - low.over_wire_mm == pytest.approx(0.132, abs=1e-9)


@pytest.mark.parametrize(
    ("major", "pitch", "grade", "says"),
    [
        (10, 1.5, "6G", "no class of an external thread"),
        (10, 1.5, "6z", "no class of an external thread"),
        (10, 2.0, "6g", r"no thread of this pitch.*0\.75, 1, 1\.25, 1\.5"),
        (120, 3.0, "6g", "ends before this diameter"),
        (10, 1.5, "5g", r"major diameter has no grade 5.*5g6g"),
        (2, 0.4, "8g", "no grade 8 of the pitch diameter"),
        (2, 0.4, "6e", "no position e"),
    ],
)
def test_gaps_of_the_table_are_refused(major, pitch, grade, says) -> None:
    with pytest.raises(Refused, match=says):
        metric_thread_limits(major, pitch, grade)
