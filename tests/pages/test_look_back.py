"""Going back in the record: an older day's pictures and checks, and one check with all that was said of it."""

import datetime as dt
from collections.abc import Callable

from small_shop import twenty_checks, words
from streamlit.testing.v1 import AppTest

from spc.station import Station

RunPage = Callable[[str], AppTest]
HOURLY = "hourly:hourly_page"


def test_a_check_seen_again_says_what_was_said_of_it(shop: Station, run_page: RunPage) -> None:
    out = {"machine": "R1", "part": "P-31", "time": "2026-03-01T22:30:00+01:00"}
    twenty_checks(shop)
    verdict = shop.check_in(
        {**out, "values": {"over_pin": ["31.275", "31.274", "31.276", "31.275", "31.275"]}}
    )
    assert verdict.verdict == "hold"
    page = run_page(HOURLY)
    again = next(each for each in page.selectbox if each.label.startswith("See a check again"))
    assert again.value is None
    named = next(each for each in again.options if "01 Mar, 22:30" in each)
    assert "Stop and hold" in named
    again.select(named).run()
    assert not page.exception
    for each in verdict.signals:
        assert each.says in words(page)


def test_an_older_day_shows_its_checks_alone(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    page = run_page(HOURLY)
    until = next(each for each in page.date_input if each.label.startswith("Up to the end of"))
    until.set_value(dt.date(2026, 3, 1)).run()
    assert not page.exception
    again = next(each for each in page.selectbox if each.label.startswith("See a check again"))
    assert len(again.options) == 20
    assert all("01 Mar" in each for each in again.options)
    until.set_value(dt.date(2026, 2, 27)).run()
    assert "No check of this part on this machine until then." in words(page)


def test_the_page_says_what_most_likely_lies_behind(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    odd = {"machine": "R1", "part": "P-31", "time": "2026-03-01T22:30:00+01:00"}
    verdict = shop.check_in(
        {**odd, "values": {"over_pin": ["31.250", "31.251", "31.249", "31.267", "31.250"]}}
    )
    assert any(each.kind == "isolated" for each in verdict.signals)
    page = run_page(HOURLY)
    again = next(each for each in page.selectbox if each.label.startswith("See a check again"))
    again.select(next(each for each in again.options if "22:30" in each)).run()
    says = words(page)
    assert "Most likely one odd piece; also possible an entry or gauging mistake" in says
    assert says.count("piece 4") == 1  # the sentence before has said which one
