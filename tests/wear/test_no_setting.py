"""One slide, several sizes: whether any setting serves them all, against trying every step."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from spc.wear import SlideSize, advise, mismatch

PIN = SlideSize("over_pin", 9.0, 0.0, 0.0, 0.8, 2.0, -12.0, 12.0, 24.0)
CREST = SlideSize("crest", 6.0, 0.0, 0.0, -1.0, 2.0, -10.0, 10.0, 20.0)

SIZES = st.lists(
    st.builds(
        SlideSize,
        name=st.sampled_from(["over_pin", "root", "crest"]),
        level_um=st.floats(-25, 25),
        level_sd_um=st.floats(0, 1),
        growth_um=st.just(0.0),
        gain=st.floats(-2, 2).filter(lambda gain: abs(gain) > 0.2),
        sigma_um=st.floats(0.5, 6),
        low_um=st.floats(-30, -10),
        high_um=st.floats(10, 30),
        tolerance_um=st.just(40.0),
    ),
    min_size=1,
    max_size=3,
)


def served(size: SlideSize, steps: int) -> bool:
    assert size.low_um is not None
    assert size.high_um is not None
    mean, room = size.level_um - size.gain * steps, 3.0 * size.sigma_um - 2.0 * size.level_sd_um
    return size.low_um + room <= mean <= size.high_um - room


@given(SIZES)
def test_as_trying_every_step_says(sizes: list[SlideSize]) -> None:
    steps = range(-400, 401)
    capable = [size for size in sizes if any(served(size, each) for each in steps)]
    together = any(all(served(size, each) for size in capable) for each in steps)
    assert (mismatch(sizes, 1.0) is None) == together


def test_says_what_each_would_need() -> None:
    found = mismatch([PIN, CREST], 1.0)
    assert found is not None
    assert (found.deeper, found.shallower) == ("over_pin", "crest")
    assert found.deeper_um == 9.0 / 0.8
    assert found.shallower_um == -6.0


def test_one_size_out_of_capability_is_another_matter() -> None:
    wide = replace(PIN, sigma_um=9.0)
    assert mismatch([wide, CREST], 1.0) is None
    assert mismatch([PIN], 1.0) is None


def test_doubt_speaks_for_the_dies() -> None:
    assert mismatch([PIN, CREST], 1.0) is not None
    assert mismatch([replace(PIN, level_sd_um=3.0), replace(CREST, level_sd_um=3.0)], 1.0) is None


def test_what_one_setting_serves_gets_a_move() -> None:
    crest = replace(CREST, level_um=-2.0)
    assert mismatch([PIN, crest], 1.0) is None
    assert advise([PIN, crest], 1.0, None) is not None


def test_only_as_deep_as_the_travel_allows() -> None:
    size = SlideSize("over_pin", 9.0, 0.5, 0.0, 1.0, 2.0, -18.0, 18.0, 36.0)
    for left, wanted in ((20.0, 9.0), (4.0, 4.0), (0.4, None), (-3.0, None)):
        advice = advise([size], 1.0, 20.0, left)
        assert (None if advice is None else advice.approach_um) == wanted
    up = advise([replace(size, level_um=-9.0)], 1.0, 20.0, -3.0)
    assert up is not None
    assert up.approach_um == -9.0
