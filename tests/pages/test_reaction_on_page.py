"""The reaction on the page: which list comes first, the steps, the caution that belongs, and when to check next."""

from collections.abc import Callable

import pytest
from small_shop import VALUES, press, type_values, words, write
from streamlit.testing.v1 import AppTest

from spc.pages.reaction_block import folded_reaction, reaction_html
from spc.pages.verdict_block import first_word
from spc.shop import Reaction
from spc.shop.changed import changed
from spc.station import Station
from spc.station.reaction_lists import PATTERNS

RunPage = Callable[[str], AppTest]
HOURLY = "hourly:hourly_page"
OUT = ("31.250", "31.2705", "31.249", "31.251", "31.250")


def saved(page: AppTest, *values: str) -> str:
    type_values(page, *values)
    page.run()
    write(page, "Counter", "760")
    page.checkbox[0].check().run()
    press(page, "Save the check")
    return words(page)


@pytest.mark.usefixtures("shop")
def test_a_hold_says_what_to_do_in_order(run_page: RunPage) -> None:
    says = saved(run_page(HOURLY), *OUT)
    assert "Stop and hold" in says
    assert "Gauge first" in says or "Stop first" in says
    assert "Look for, in this order" in says
    assert says.count("no gloves near turning dies") == 1  # under the grid, and not a second time


@pytest.mark.usefixtures("shop")
def test_a_quiet_check_shows_no_list_and_says_when_to_check_next(run_page: RunPage) -> None:
    says = saved(run_page(HOURLY), *VALUES)
    assert "Look for, in this order" not in says
    assert "Next check in 30 min" in says  # new dies
    assert "new dies wear in faster" in says


def test_a_setting_put_first_is_due_at_once(shop: Station, run_page: RunPage) -> None:
    event = {"machine": "R1", "part": "P-31", "event": "setting", "value": "1.4", "note": "dwell_s"}
    shop.log({**event, "time": shop.now().isoformat()})
    assert '<span class="value">now</span>' in words(run_page(HOURLY))


@pytest.mark.parametrize("first", ["stop", "gauge"])
def test_cautions_belong(first: str) -> None:
    """Ground rule 7: three fixed cautions, each where it belongs; that on gauging stands under the grid."""
    cautions = ("gauging", "hands") if first == "stop" else ("gauging", "panel")
    html = reaction_html(Reaction(first, "a <b>find</b>", ("this",), ("No further piece.",), cautions))  # type: ignore[arg-type]
    assert ("lock out" in html) == (first == "stop")
    assert ("Guards closed" in html) == (first == "gauge")
    assert "Never gauge" not in html
    assert "&lt;b&gt;find" in html


def test_a_list_that_gauges_nothing_is_not_headed_by_the_gauge() -> None:
    says = reaction_html(
        Reaction("gauge", "the infeed used up, or nearly", ("worn",), ("Book.",), ("panel",))
    )
    assert "Gauge first" not in says
    assert '<p class="head">The infeed used up, or nearly</p>' in says


def test_without_a_signal_there_is_nothing_to_fold() -> None:
    assert (reaction_html(None), folded_reaction(None)) == ("", "")


def test_every_pattern_reads_without_a_code() -> None:
    assert not any(
        "_" in word for each in PATTERNS.values() for word in (each.says, *each.causes, *each.then)
    )


def test_stop_is_the_first_word_where_something_points_at_the_dies(shop: Station) -> None:
    """Ground rule 7: "the first word is *stop, no further piece*"; "Look closer" stood above it."""
    made = {"machine": "R1", "part": "P-31", "time": shop.now().isoformat(), "counter": 760}
    verdict = shop.check_in({**made, "values": {"over_pin": list(VALUES)}})
    stop = Reaction("stop", "a step", ("a die",), ("No further piece.",), ("hands",))
    for word, said in (("watch", "Look closer"), ("correct", "Adjust")):
        assert first_word(changed(verdict, verdict=word, reaction=stop), said) == "Stop, no further piece"
        gauge = changed(stop, first="gauge")
        assert first_word(changed(verdict, verdict=word, reaction=gauge), said) == said
    held = changed(verdict, verdict="hold", reaction=stop)
    assert first_word(held, "Stop and hold") == "Stop and hold"
