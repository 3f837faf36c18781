"""Spline classes: relations of ISO 4156-1 and ANSI B92.1 as open transcriptions restate them (read).

The figures were calculated from those relations by another program; the spline of 56 teeth with module 0.79375
(32/64) is a trade figure: common practice, no source.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import (
    READ,
    InvoluteTeeth,
    inch_pin_mm,
    inch_spline,
    inch_tolerances,
    iso_spline,
    iso_total_tolerance_um,
    over_pin_limits,
    over_pins,
)

TOTALS = {
    (1.0, 20): (33.402, 53.443, 83.504, 133.607),
    (0.79375, 56): (35.808, 57.293, 89.521, 143.233),
    (3.0, 40): (53.762, 86.019, 134.405, 215.048),
    (1.5, 28): (40.108, 64.173, 100.271, 160.434),
}


@pytest.mark.parametrize(("spline", "totals"), TOTALS.items())
def test_total_tolerance_by_iso(spline, totals) -> None:
    for grade, total in zip((4, 5, 6, 7), totals, strict=True):
        assert iso_total_tolerance_um(*spline, grade) == pytest.approx(total, abs=5e-4)


@pytest.mark.parametrize(
    ("spline", "pitch", "profile", "line", "variation", "machining"),
    [
        ((1.0, 20), 28.898, 19.125, 8.162, 21.361, 32.082),
        ((0.79375, 56), 38.664, 19.373, 9.714, 26.594, 30.699),
    ],
)
def test_errors_behind_the_effective_variation(spline, pitch, profile, line, variation, machining) -> None:
    found = iso_spline(*spline, spline_class=5)
    parts = dict(found.parts_um)
    assert parts["cumulative pitch"] == pytest.approx(pitch, abs=5e-4)
    assert parts["profile"] == pytest.approx(profile, abs=5.1e-4)  # 19.3734375 was printed 19.373
    assert parts["flank line"] == pytest.approx(line, abs=5e-4)
    assert found.variation_um == pytest.approx(variation, abs=5e-4)
    assert found.machining_um == pytest.approx(machining, abs=5e-4)


def test_iso_class_to_limits_over_pins() -> None:
    """Trade figure; its limits were worked out with the tolerances rounded to 0.001 µm: 1e-6 mm."""
    limits = over_pin_limits(iso_spline(0.79375, 56, spline_class=5), pin_mm=1.5)
    assert limits.upper_mm == pytest.approx(46.7247992, abs=1e-6)
    assert limits.lower_mm == pytest.approx(46.6740705, abs=1e-6)
    assert limits.effective_mm == pytest.approx(46.7686239, abs=5e-8)
    assert limits.at_upper.over_pin_mm == limits.upper_mm
    teeth = InvoluteTeeth(0.79375, 56, 30.0)
    basic = teeth.half_pitch_mm
    assert over_pins(teeth, basic - 0.026594, 1.5).over_pin_mm == pytest.approx(46.7247992, abs=5e-8)
    assert over_pins(teeth, basic - 0.057293, 1.5).over_pin_mm == pytest.approx(46.6740705, abs=5e-8)


def test_trade_figure_over_other_pins() -> None:
    """Common practice, no source: the same spline over pins of 1.5, 1.6 and the best pin."""
    teeth = InvoluteTeeth(0.79375, 56, 30.0)
    sizes = {1.5: (46.7686239, 1.645829), 1.6: (47.0576452, 1.628277), 1.46379276: (46.6634695, 1.652430)}
    for pin, (size, factor) in sizes.items():
        found = over_pins(teeth, teeth.thickness_mm(), pin)
        assert found.over_pin_mm == pytest.approx(size, abs=6e-8)
        assert found.change_factor == pytest.approx(factor, abs=5e-7)
    assert iso_spline(0.79375, 56, spline_class=5).diameter("tip max").value == pytest.approx(
        45.244, abs=5e-4
    )


@pytest.mark.parametrize(
    ("pitch", "teeth", "machining", "variation", "total"),
    [
        (32, 56, 14.92, 17.72, 32.64),
        (16, 20, 12.4, 15.4, 27.8),
        (20, 24, 12.68, 15.88, 28.56),
        (12, 24, 13.4, 18.08, 31.48),
    ],
)
def test_inch_tolerances_of_class_5(pitch, teeth, machining, variation, total) -> None:
    found = inch_spline(pitch, teeth, spline_class=5)
    ten_thousandths = 2.54  # µm
    assert found.machining_um / ten_thousandths == pytest.approx(machining, abs=5e-3)
    assert found.variation_um / ten_thousandths == pytest.approx(variation, abs=5e-3)
    assert found.total_um / ten_thousandths == pytest.approx(total, abs=5e-3)


@pytest.mark.parametrize(
    ("pitch", "teeth", "totals"), [(32, 56, (23.17, 45.70, 65.28)), (16, 20, (19.7, 38.9, 55.6))]
)
def test_inch_tolerances_of_the_other_classes(pitch, teeth, totals) -> None:
    half = 5e-3 if pitch == 32 else 0.05
    for grade, total in zip((4, 6, 7), totals, strict=True):
        assert sum(inch_tolerances(pitch, teeth, grade)) / 2.54 == pytest.approx(total, abs=half)


def test_inch_class_to_limits_over_pins() -> None:
    """Trade figure, as above: 32/64 with 56 teeth, class 5, pins of 0.060 inch."""
    spline = inch_spline(32, 56, spline_class=5)
    limits = over_pin_limits(spline, inch_pin_mm(32))
    assert limits.pin_mm == pytest.approx(1.524, abs=1e-12)
    inches = [value / 25.4 for value in (limits.effective_mm, limits.upper_mm, limits.lower_mm)]
    assert inches == pytest.approx([1.8440226, 1.8411076, 1.8386435], abs=5e-8)
    assert 1000 * (limits.upper_mm - limits.lower_mm) == pytest.approx(62.6, abs=0.05)
    assert spline.diameter("form max").value == pytest.approx(43.55465, abs=5e-6)
    assert spline.diameter("form max").how == READ


def test_what_isnt_known_says_so() -> None:
    assert inch_spline(16, 20, spline_class=5, root="fillet").diameter("root min").unknown
    assert "15 read, 14 from memory" in inch_spline(3, 20, spline_class=5).notes[-1]
    assert "transcription" in iso_spline(1.0, 20, spline_class=5).notes[0]
    assert iso_spline(1.0, 20, spline_class=5).diameter("form max").how == "from memory"


@given(st.floats(0.5, 8.0), st.integers(8, 80), st.sampled_from([4, 5, 6, 7]))
def test_a_coarser_class_is_wider_and_never_above_the_effective_size(module, teeth, grade) -> None:
    limits = over_pin_limits(iso_spline(module, teeth, spline_class=grade))
    assert limits.lower_mm < limits.upper_mm < limits.effective_mm
    if grade < 7:
        coarser = over_pin_limits(iso_spline(module, teeth, spline_class=grade + 1))
        assert coarser.lower_mm < limits.lower_mm
        assert coarser.upper_mm < limits.upper_mm


@pytest.mark.parametrize(("fit", "step_um"), [("d", 50), ("e", 32), ("f", 16), ("h", 0)])
def test_a_fit_thins_the_tooth_and_lowers_the_diameters(fit, step_um) -> None:
    """Deviations at 10 to 18 mm, read in a transcription of ISO 4156-1:2005, table 5."""
    free, tight = (iso_spline(1.0, 18, spline_class=5, fit=one) for one in (fit, "h"))
    assert tight.thickness_max_mm - free.thickness_max_mm == pytest.approx(step_um / 1000, abs=1e-12)
    lower = tight.diameter("tip max").value - free.diameter("tip max").value
    assert lower == pytest.approx(step_um / 1000 / math.tan(math.pi / 6), abs=1e-12)


def test_a_pin_that_misses_the_active_flank_is_refused() -> None:
    spline = iso_spline(2.0, 25, spline_class=6)
    with pytest.raises(Refused, match="below the active flank"):
        over_pin_limits(spline, pin_mm=2.0)
    with pytest.raises(Refused, match="stands on the root"):
        over_pin_limits(spline, pin_mm=1.0)
    with pytest.raises(Refused, match="above the tip"):
        over_pin_limits(spline, pin_mm=6.5)


def test_what_the_standards_dont_have_is_refused_at_once() -> None:
    with pytest.raises(Refused) as caught:
        iso_spline(0.0, 4, spline_class=3, fit="k", root="round", length_mm=-1.0)
    columns = [refusal.column for refusal in caught.value.refusals]
    assert columns == ["module", "teeth", "class", "fit", "root", "length"]
    with pytest.raises(Refused, match="aren't known here above 120 mm"):
        iso_spline(4.0, 40, spline_class=5, fit="f")
    with pytest.raises(Refused) as caught:
        inch_spline(14, 4, spline_class=8, root="round")
    assert [refusal.column for refusal in caught.value.refusals] == [
        "diametral pitch",
        "teeth",
        "class",
        "root",
    ]
