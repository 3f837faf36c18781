"""Readings of warm parts; calculated with 11.5e-6 per kelvin, the relation as the NPL states it (read)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import size_at_20

WARM = st.floats(-10.0, 100.0)
EXPANSION = st.floats(9e-6, 24e-6)


@pytest.mark.parametrize(
    ("length", "part_c", "growth_um", "half_digit"),
    [
        (45.244, 35.0, 7.8046, 5e-5),  # a trade figure: common practice, no source
        (300.0, 28.0, 27.6, 0.05),
        (1000.0, 21.0, 11.5, 0.05),
        (21.0, 45.0, 6.0375, 5e-5),
    ],
)
def test_growth_of_a_part_on_a_master_at_20(
    length: float, part_c: float, growth_um: float, half_digit: float
) -> None:
    found = size_at_20(length, part_c=part_c, master_c=20.0)
    assert 1000 * found.taken_off_mm == pytest.approx(growth_um, abs=half_digit)
    assert found.size_mm == pytest.approx(length - growth_um / 1000, abs=half_digit / 1000)


@given(st.floats(1.0, 500.0), WARM, EXPANSION)
def test_a_master_as_warm_as_the_part_leaves_the_reading_alone(
    length: float, warm: float, per_k: float
) -> None:
    found = size_at_20(length, part_c=warm, master_c=warm, part_per_k=per_k, master_per_k=per_k)
    assert (found.size_mm, found.taken_off_mm) == (length, 0.0)


@given(st.floats(5.0, 100.0), WARM, WARM, EXPANSION, EXPANSION)
def test_it_undoes_what_warmth_does_to_part_and_gauge(
    size: float, part_c: float, master_c: float, part_per_k: float, master_per_k: float
) -> None:
    """A comparator shows the grown part minus the grown master, whose certified size it calls by its name."""
    part = size * (1 + part_per_k * (part_c - 20))
    master_mm = 31.25
    shown = part - size * master_per_k * (master_c - 20)  # the master is as long as the part to a few µm
    found = size_at_20(
        shown - master_mm,
        length_mm=size,
        part_c=part_c,
        master_c=master_c,
        part_per_k=part_per_k,
        master_per_k=master_per_k,
    )
    assert found.size_mm + master_mm == pytest.approx(size, abs=1e-9)


def test_a_deviation_takes_the_length_of_the_part() -> None:
    found = size_at_20(0.012, length_mm=40.0, part_c=30.0, master_c=20.0)
    assert 1000 * found.size_mm == pytest.approx(12.0 - 4.6, abs=1e-9)


def test_all_that_cannot_be_is_said_at_once() -> None:
    with pytest.raises(Refused, match="degrees Celsius") as caught:
        size_at_20(31.25, part_c=500.0, master_c=float("nan"), part_per_k=11.5, length_mm=-1.0)
    columns = [refusal.column for refusal in caught.value.refusals]
    assert columns == ["part temperature", "master temperature", "part expansion", "length"]
