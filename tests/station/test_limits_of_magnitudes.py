"""Control limits of straightness, run-out and the like never go below 0, in the chart as in the review.

A magnitude is never below 0, so a lower limit there says nothing (common practice, no source).
"""

from shaft import check, event, open_shop

from spc.station import Station

BOW = (("0.001", "0.007"), ("0.002", "0.008"), ("0.001", "0.006"))


def shop_with_limits(kind: str, nominal: str, limits: str) -> Station:
    """Twenty-two checks of a small mean and a wide range: centre 0.0043 mm, spread of a piece 0.0050 mm."""
    live = open_shop(
        'kind = "straightness"\nunit = "mm"\nnominal = 0.0\nupper = 0.050',
        f'kind = "{kind}"\nunit = "mm"\nnominal = {nominal}\n{limits}',
    )
    live.log(event(0, "die_set_mounted", "D-1"))
    for hour in range(1, 23):
        live.check_in(check(hour, counter=300 * hour, values={"bow": list(BOW[hour % 3])}))
    return live


def last_lower(live: Station) -> float | None:
    bow = next(each for each in live.histories("T-9", "M1") if each.characteristic.name == "bow")
    assert bow.points[-1].standing == "provisional"
    return bow.points[-1].lower


def test_the_lower_limit_of_a_magnitude_ends_at_0() -> None:
    live = shop_with_limits("straightness", "0.0", "upper = 0.050")
    assert last_lower(live) == 0.0
    reviewed = {each.characteristic.name: each.limits for each in live.review("T-9", "M1").characteristics}
    assert reviewed["bow"] is not None
    assert reviewed["bow"].lower == 0.0


def test_signed_limits_end_there_too() -> None:
    live = shop_with_limits("straightness", "0.0", "upper = 0.050")
    live.sign_limits("T-9", "M1", "bow", by="Q. Lead")
    later = live.check_in(check(24 * 30, counter=6900, values={"bow": ["0.002", "0.007"]}))
    assert dict(later.subgroups)["bow"].standing == "signed"
    assert dict(later.subgroups)["bow"].lower == 0.0


def test_a_signed_deviation_keeps_its_lower_limit_below_0() -> None:
    live = shop_with_limits("lead_deviation", "0.0", "lower = -0.050\nupper = 0.050")
    lower = last_lower(live)
    assert lower is not None
    # mean of the means 0.0042 mm less 3 spreads over the root of 2 pieces, by hand about -0.007 mm
    assert -0.008 < lower < -0.006
