"""Comparing on the review page: nothing before it is asked, then one sentence, or why there is none."""

from collections.abc import Callable
from datetime import timedelta

from small_shop import words
from streamlit.testing.v1 import AppTest

from spc.shop.moment import to_utc
from spc.station import Station

RunPage = Callable[[str], AppTest]


def pick(page: AppTest, choice: str) -> str:
    """Pick what to compare; what the page says then."""
    next(each for each in page.button_group if each.key == "review compare").set_value(choice).run()
    assert not page.exception
    return words(page)


def test_too_few_checks_are_said_and_people_stand_as_they_sign(shop: Station, run_page: RunPage) -> None:
    page = run_page("review:review_page")
    assert "Pick what to compare" in words(page)
    assert "Over pins: Nothing to compare yet: two people with hourly checks" in pick(page, "people")
    two_people(shop)
    says = pick(run_page("review:review_page"), "people")
    # MK gauged the three checks of the shop too, 1.4 µm higher than the twelve: 4 - 1.4 × 3 / 15
    assert "Over pins: What JS gauged is 3.7 µm higher than what MK gauged, 95 % interval" in says
    assert "look at the gauge first" in says


def two_people(shop: Station) -> None:
    """Four days before: an early shift of MK and a late one of JS, 4 µm higher, three checks each."""
    start = to_utc(shop.now().replace(tzinfo=None, hour=6, minute=30), "Europe/Berlin") - timedelta(days=5)
    for day in range(4):
        for hours, signed, higher in ((0, "MK", 0), (8, "JS", 4)):
            for number in range(3):
                time = start + timedelta(days=day, hours=hours + number)
                sizes = [f"{31.246 + (higher + step + number) / 1000:.3f}" for step in (0, 2, 1, 3, 2)]
                check = {"machine": "R1", "part": "P-31", "time": time.isoformat(), "operator": signed}
                shop.check_in({**check, "values": {"over_pin": sizes}})
