"""Every cell of the tables that the other tests touch in places: travel, fits and tolerances of splines.

ISO 3408-3: the mean deviations of P5 read in a public ISO 286 table, the others from memory. JIS B 1192 above 800 mm:
from memory. Fits and classes: open transcriptions of ISO 4156-1 and ANSI B92.1 (read), Machinery's Handbook (from
memory).
"""

import math

import pytest

from spc.geometry import inch_tolerances, iso_spline, travel_tolerances

ISO = {  # useful travel up to: mean deviation of P1, P3, P5, then their variations
    315: (6, 12, 23, 6, 12, 23),
    400: (7, 13, 25, 6, 12, 25),
    500: (8, 15, 27, 7, 13, 26),
    630: (9, 16, 32, 7, 14, 29),
    800: (10, 18, 36, 8, 16, 31),
    1000: (11, 21, 40, 9, 17, 35),
    1250: (13, 24, 47, 10, 19, 39),
    1600: (15, 29, 55, 11, 22, 44),
    2000: (18, 35, 65, 13, 25, 51),
    2500: (22, 41, 78, 15, 29, 59),
    3150: (26, 50, 96, 17, 34, 69),
}
BETWEEN = {
    "P2": (8, 9, 10, 11, 13, 15, 18, 21, 25, 30, 36),
    "P4": (16, 18, 20, 22, 25, 28, 33, 39, 46, 55, 68),
}
P0 = (4, 5, 6, 6, 7, 8, 9, 11)
JIS = {  # C0, C1, C2, C3, C5: mean ± / variation
    1250: (9, 6, 13, 9, 18, 11, 24, 16, 46, 30),
    2000: (None, None, 18, 11, 25, 15, 35, 21, 65, 40),
    2500: (None, None, 22, 13, 30, 18, 41, 24, 77, 46),
    3150: (None, None, 26, 15, 36, 21, 50, 29, 93, 54),
    5000: (None, None, None, None, 52, 30, 72, 41, 140, 77),
}
FITS_UM = {  # reference diameter, mm: d, e, f, h
    2: (20, 14, 6, 0), 5: (30, 20, 10, 0), 8: (40, 25, 13, 0), 15: (50, 32, 16, 0), 24: (65, 40, 20, 0),
    40: (80, 50, 25, 0), 65: (100, 60, 30, 0), 100: (120, 72, 36, 0),
}  # fmt: skip
INCH_CLASS_5 = {  # diametral pitch: machining and effective variation, each (a N + b) in 0.0001 in
    2.5: (0.18, 15, 0.35, 20), 3: (0.18, 15, 0.35, 20), 4: (0.15, 13, 0.23, 18), 5: (0.15, 13, 0.23, 18),
    6: (0.15, 11, 0.20, 15), 8: (0.15, 11, 0.20, 15), 10: (0.10, 11, 0.17, 14), 12: (0.10, 11, 0.17, 14),
    16: (0.07, 11, 0.12, 13), 20: (0.07, 11, 0.12, 13), 24: (0.07, 11, 0.12, 11), 32: (0.07, 11, 0.12, 11),
    40: (0.07, 11, 0.12, 11), 48: (0.07, 11, 0.12, 11), 64: (0.06, 9, 0.10, 10), 80: (0.06, 9, 0.10, 10),
    128: (0.05, 9, 0.08, 9),
}  # fmt: skip
BEHIND_VARIATION = {  # class: factors of √L, φ and √b, and what is added to each
    4: (2.5, 6.3, 1.6, 10, 0.8, 4),
    5: (3.55, 9, 2.5, 16, 1.0, 5),
    6: (5, 12.5, 4, 25, 1.25, 6.3),
    7: (7.1, 18, 6.3, 40, 2, 10),
}


@pytest.mark.parametrize(("up_to", "row"), ISO.items())
def test_rows_of_iso(up_to: int, row: tuple[int, ...]) -> None:
    found = [travel_tolerances("iso", grade, up_to) for grade in ("P1", "P3", "P5")]
    assert tuple(one.mean_um.value for one in found) == row[:3]
    assert tuple(one.variation_um.value for one in found) == row[3:]


def test_mean_deviations_of_the_grades_between() -> None:
    for grade, row in BETWEEN.items():
        assert tuple(travel_tolerances("iso", grade, up_to).mean_um.value for up_to in ISO) == row
    assert tuple(travel_tolerances("iso", "P0", up_to).mean_um.value for up_to in list(ISO)[:8]) == P0


@pytest.mark.parametrize(("up_to", "row"), JIS.items())
def test_long_rows_of_jis(up_to: int, row: tuple[int | None, ...]) -> None:
    for place, grade in enumerate(("C0", "C1", "C2", "C3", "C5")):
        found = travel_tolerances("jis", grade, up_to)
        assert (found.mean_um.value, found.variation_um.value) == row[2 * place : 2 * place + 2]


@pytest.mark.parametrize("length", [150.0, 600.0, 2000.0])
def test_transport_grades_by_their_rule(length: float) -> None:
    """Twice the tolerance in 300 mm for every 300 mm of useful travel (from memory)."""
    for grade, in_300 in (("T7", 52), ("T10", 210)):
        found = travel_tolerances("iso", grade, length).mean_um.value
        assert found == pytest.approx(2 * length / 300 * in_300, abs=1e-9)


@pytest.mark.parametrize(("diameter", "row"), FITS_UM.items())
def test_fits_of_splines(diameter: int, row: tuple[int, ...]) -> None:
    teeth = 8 if diameter < 10 else 20
    basic = iso_spline(diameter / teeth, teeth, spline_class=5).thickness_max_mm
    for fit, step_um in zip("defh", row, strict=True):
        thinner = basic - iso_spline(diameter / teeth, teeth, spline_class=5, fit=fit).thickness_max_mm
        assert thinner == pytest.approx(step_um / 1000, abs=1e-12)


@pytest.mark.parametrize(("pitch", "row"), INCH_CLASS_5.items())
def test_inch_tolerances(pitch: float, row: tuple[float, ...]) -> None:
    for teeth in (12, 40):
        expected = (row[0] * teeth + row[1], row[2] * teeth + row[3])
        for grade, share in ((4, 0.71), (5, 1.0), (6, 1.4), (7, 2.0)):
            found = [each / 2.54 for each in inch_tolerances(pitch, teeth, grade)]
            assert sum(found) == pytest.approx(share * sum(expected), abs=1e-9)
        assert inch_tolerances(pitch, teeth, 5) == pytest.approx([2.54 * each for each in expected], abs=1e-9)


@pytest.mark.parametrize(("grade", "row"), BEHIND_VARIATION.items())
def test_errors_behind_the_effective_variation_of_every_class(grade: int, row: tuple[float, ...]) -> None:
    module, teeth, length = 1.75, 26, 30.0
    found = iso_spline(module, teeth, spline_class=grade, length_mm=length)
    pitch = row[0] * math.sqrt(math.pi * module * teeth / 2) + row[1]
    profile = row[2] * (module + 0.0125 * module * teeth) + row[3]
    line = row[4] * math.sqrt(length) + row[5]
    assert dict(found.parts_um) == pytest.approx(
        {"cumulative pitch": pitch, "profile": profile, "flank line": line}, abs=1e-9
    )
    assert found.variation_um == pytest.approx(0.6 * math.hypot(pitch, profile, line), abs=1e-9)
