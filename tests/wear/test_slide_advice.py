"""The advice to move the slide: whole steps, quiet when it should be, never over a limit."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spc.errors import Refused
from spc.wear import SlideSize, advise
from spc.wear.correction import _safe_part

PIN = SlideSize("over_pin", 6.0, 0.5, 0.0, 0.8, 2.0, -18.0, 18.0, 36.0)

SIZES = st.lists(
    st.builds(
        SlideSize,
        name=st.sampled_from(["over_pin", "root", "crest"]),
        level_um=st.floats(-25, 25),
        level_sd_um=st.floats(0, 3),
        growth_um=st.floats(-3, 3),
        gain=st.floats(-2, 2).filter(lambda gain: abs(gain) > 0.05),
        sigma_um=st.floats(0.1, 6),
        low_um=st.none() | st.floats(-30, -10),
        high_um=st.none() | st.floats(10, 30),
        tolerance_um=st.floats(20, 60),
        growth_sd_um=st.floats(0, 2),
        wander_um=st.floats(0, 3),
        gain_sd=st.floats(0, 0.5),
    ),
    min_size=1,
    max_size=3,
)


def test_one_size_goes_to_its_target() -> None:
    advice = advise([PIN], 1.0, 20.0)
    assert advice is not None
    assert advice.approach_um == 8.0  # 6/0.8 = 7.5, the even neighbour
    assert advice.lands_um == (("over_pin", pytest.approx(6.0 - 0.8 * 8.0)),)
    assert advice.characteristic == "over_pin"


def test_a_gain_nobody_is_sure_of_makes_the_move_shorter() -> None:
    # E(level − g·u)² is least at u = level·g/(g² + s²) for a gain g ± s (own algebra): 6·0.8/(0.64 + 0.36) = 4.8.
    advice = advise([replace(PIN, gain_sd=0.6)], 1.0, 20.0)
    assert advice is not None
    assert advice.approach_um == 5.0


@given(SIZES, st.integers(-60, 60))
def test_the_part_of_a_move_that_is_safe_is_found_as_by_trying_every_step(
    sizes: list[SlideSize], wanted: int
) -> None:
    way = 1 if wanted > 0 else -1
    steps = (way * each for each in range(abs(wanted), 0, -1))
    tried = next((each for each in steps if all(size.is_safe(1.0 * each) for size in sizes)), 0)
    assert _safe_part(sizes, wanted, 1.0) == tried


def test_a_slide_that_hardly_moves_the_size_is_answered_at_once() -> None:
    """A gain slipped by powers of ten asks for 10¹² steps: found by halving, not by laying them all out."""
    advice = advise([replace(PIN, gain=6e-12)], 1.0, None)
    assert advice is not None
    assert advice.approach_um == pytest.approx(1e12)


def test_half_the_growth_to_come_is_met_beforehand() -> None:
    # A drift is centred on target if the setting starts half of it below (own calculus: a sawtooth of travel D
    # has the least mean square, D²/12, when it is centred).
    advice = advise([replace(PIN, level_um=5.0, growth_um=6.0)], 1.0, None)
    assert advice is not None
    assert advice.approach_um == 10.0  # (5 + 6/2)/0.8


@given(SIZES, st.sampled_from([0.5, 1.0, 2.0, 5.0]), st.none() | st.floats(0.5, 30))
@settings(max_examples=300)
def test_every_advice_is_makeable_safe_and_an_improvement(
    sizes: list[SlideSize], step: float, largest: float | None
) -> None:
    advice = advise(sizes, step, largest)
    if advice is None:
        return
    steps = advice.approach_um / step
    assert steps == pytest.approx(round(steps), abs=1e-9)
    assert round(steps) != 0
    assert largest is None or abs(advice.approach_um) <= largest + 1e-6
    badness = [
        sum(((size.ahead_um(approach) - size.aim_um) / size.tolerance_um) ** 2 for size in sizes)
        for approach in (0.0, advice.approach_um)
    ]
    assert badness[1] <= badness[0] + 1e-12
    for size in sizes:
        now, ahead = size.ahead_um(0.0), size.ahead_um(advice.approach_um)
        if size.high_um is not None:
            assert ahead + 3 * size.sigma_um <= size.high_um or ahead <= now
        if size.low_um is not None:
            assert ahead - 3 * size.sigma_um >= size.low_um or ahead >= now
    assert any(abs(size.ahead_um(0.0)) > size.deadband_um for size in sizes)


@given(SIZES, st.floats(0.2, 20))
def test_another_unit_of_size_changes_nothing(sizes: list[SlideSize], scale: float) -> None:
    scale = 2.0 ** round(scale)  # exact in floats: no rounding to a neighbouring step
    scaled = [
        replace(
            size,
            level_um=size.level_um * scale,
            level_sd_um=size.level_sd_um * scale,
            growth_um=size.growth_um * scale,
            sigma_um=size.sigma_um * scale,
            low_um=None if size.low_um is None else size.low_um * scale,
            high_um=None if size.high_um is None else size.high_um * scale,
            tolerance_um=size.tolerance_um * scale,
            growth_sd_um=size.growth_sd_um * scale,
            wander_um=size.wander_um * scale,
        )
        for size in sizes
    ]
    one, other = advise(sizes, 1.0, 16.0), advise(scaled, scale, 16.0 * scale)
    assert (one is None) == (other is None)
    if one is not None and other is not None:
        assert other.approach_um == one.approach_um * scale


@given(SIZES)
def test_the_mirror_image_moves_the_other_way(sizes: list[SlideSize]) -> None:
    mirrored = [replace(size, gain=-size.gain) for size in sizes]
    one, other = advise(sizes, 1.0, 20.0), advise(mirrored, 1.0, 20.0)
    assert (None if one is None else -one.approach_um) == (None if other is None else other.approach_um)


@pytest.mark.parametrize("sign", [-1.0, 1.0])
def test_inside_the_deadband_the_slide_stays(sign: float) -> None:
    edge = PIN.deadband_um
    assert advise([replace(PIN, level_um=sign * (edge - 0.1))], 1.0, 20.0) is None
    assert advise([replace(PIN, level_um=sign * (edge + 0.1))], 1.0, 20.0) is not None


def test_a_level_hardly_known_is_left_alone_for_longer() -> None:
    assert advise([replace(PIN, level_sd_um=2.9)], 1.0, 20.0) is not None
    assert advise([replace(PIN, level_sd_um=3.1)], 1.0, 20.0) is None  # two standard errors are more than 6


def test_a_step_too_coarse_to_help_is_not_made() -> None:
    assert advise([PIN], 16.0, None) is None  # one step moves the size 12.8 µm: half of it is more than 6


def test_the_largest_move_caps_and_a_larger_step_forbids() -> None:
    advice = advise([replace(PIN, level_um=15.0)], 2.0, 5.0)
    assert advice is not None
    assert advice.approach_um == 4.0
    assert advise([PIN], 2.0, 1.0) is None


def test_a_move_stops_where_it_would_drive_another_size_out() -> None:
    root = SlideSize("root", -8.0, 0.5, 0.0, 1.0, 2.0, -18.0, 18.0, 360.0)
    advice = advise([replace(PIN, level_um=12.0), root], 1.0, None)
    assert advice is not None
    assert advice.approach_um == 4.0  # the root, 8 below, keeps its 3 × 2 µm from 18 below
    assert advise([replace(PIN, level_um=12.0), replace(root, level_um=-12.0)], 1.0, None) is None


def test_sizes_of_opposite_sign_share_one_slide() -> None:
    crest = SlideSize("crest", -6.0, 0.5, 0.0, -0.8, 2.0, -18.0, 18.0, 36.0)
    together = advise([PIN, crest], 1.0, 20.0)  # pin too large, crest too small: both want deeper
    assert together is not None
    assert together.approach_um == 8.0
    assert advise([PIN, replace(crest, level_um=6.0)], 1.0, 20.0) is None  # each wants what harms the other


def test_a_size_the_slide_does_not_move_is_no_reason_to_move_it() -> None:
    lead = SlideSize("lead", 12.0, 0.5, 0.0, 0.0, 2.0, -14.0, 14.0, 28.0)
    assert advise([replace(PIN, level_um=2.0), lead], 1.0, 20.0) is None
    advice = advise([PIN, lead], 1.0, 20.0)
    assert advice is not None
    assert advice.characteristic == "over_pin"


def test_nothing_to_set_nothing_to_move() -> None:
    assert advise([], 1.0, 20.0) is None


@pytest.mark.parametrize("step", [0.0, -1.0, float("nan")])
def test_refuses_a_step_the_machine_cannot_make(step: float) -> None:
    with pytest.raises(Refused, match="step"):
        advise([PIN], step, 20.0)


def test_refuses_a_size_without_tolerance_or_level() -> None:
    with pytest.raises(Refused, match="tolerance"):
        advise([replace(PIN, tolerance_um=0.0)], 1.0, 20.0)
    with pytest.raises(Refused, match="not a number"):
        advise([replace(PIN, level_um=float("nan"))], 1.0, 20.0)
