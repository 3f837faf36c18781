"""The hourly check as a page: what it shows, saves, refuses, and keeps for the next visit."""

import json
from collections.abc import Callable
from datetime import timedelta

from small_shop import VALUES, press, type_values, words, write
from streamlit.testing.v1 import AppTest

from spc.pages.strike_out import gauged_check
from spc.station import Station

RunPage = Callable[[str], AppTest]
HOURLY = "hourly:hourly_page"


def test_it_says_what_stands_on_the_machine(run_page: RunPage) -> None:
    says = words(run_page(HOURLY))
    assert "D-07" in says
    assert "540 pieces old" in says
    assert "−12.348 mm" in says  # this machine counts smaller as deeper
    assert "smaller is deeper" in says
    assert "B-19" in says
    assert "asked for at 08:40, by plan 09:10" in says  # new dies: sooner than the plan, and so not late
    assert '<span class="value">now</span>' in says
    assert "no gloves near turning dies" in says


def test_the_look_is_never_ticked_beforehand(run_page: RunPage) -> None:
    page = run_page(HOURLY)
    assert [each.value for each in page.checkbox if "looked at" in each.label] == [False]


def test_a_check_is_saved_and_its_verdict_shown(shop: Station, run_page: RunPage) -> None:
    page = run_page(HOURLY)
    type_values(page, *VALUES)
    page.run()
    write(page, "Counter", "760")
    write(page, "Who gauged?", "MK")
    page.checkbox[0].check().run()
    press(page, "Save the check")
    assert not page.exception
    assert "Run on" in words(page)
    verdict = shop.operator_view("P-31", "R1").last_verdict
    assert verdict is not None
    assert (verdict.counter, verdict.purpose, verdict.verdict) == (760, "hourly", "run")
    with shop.store.reading() as shelf:
        assert shelf.draft("check|R1|P-31") is None


def test_what_is_open_is_said_and_nothing_is_lost(shop: Station, run_page: RunPage) -> None:
    page = run_page(HOURLY)
    type_values(page, *VALUES[:3], "", "")
    page.run()
    write(page, "Counter", "76O")
    page.checkbox[0].check().run()
    press(page, "Save the check")
    assert "Still open: Over pins piece 4, Over pins piece 5" in words(page)
    press(page, "Save with what is there")
    assert "his is no count of pieces" in words(page)
    assert page.session_state["readings"]["grid"]["cells"]["over_pin"][2]["text"] == VALUES[2]
    write(page, "Counter", "760")
    page.run()
    press(page, "Save the check")
    press(page, "Save with what is there")
    verdict = shop.operator_view("P-31", "R1").last_verdict
    assert verdict is not None
    assert dict(verdict.subgroups)["over_pin"].n == 3


def test_nobody_looked_is_refused_until_somebody_says_so(shop: Station, run_page: RunPage) -> None:
    page = run_page(HOURLY)
    type_values(page, *VALUES)
    page.run()
    press(page, "Save the check")
    assert "nobody has said how the pieces look" in words(page).lower()
    page.toggle[0].set_value(True).run()
    next(each for each in page.selectbox if each.label == "Look, piece 1").set_value("chip mark").run()
    press(page, "Save the check")
    verdict = shop.operator_view("P-31", "R1").last_verdict
    assert verdict is not None
    assert verdict.verdict == "hold"
    assert "Stop and hold" in words(page)
    assert "No further piece" in words(page)


def test_a_draft_comes_back_after_a_reload(shop: Station, run_page: RunPage) -> None:
    page = run_page(HOURLY)
    type_values(page, *VALUES[:2], "", "", "")
    page.run()
    write(page, "Counter", "760")
    page.run()
    again = run_page(HOURLY)
    assert next(each for each in again.text_input if each.label == "Counter").value == "760"
    with shop.store.reading() as shelf:
        assert VALUES[1] in str(shelf.draft("check|R1|P-31"))


def test_deviations_become_sizes_from_the_certified_master(shop: Station, run_page: RunPage) -> None:
    """Size = certified size of the master + deviation; common practice, no source."""
    page = run_page(HOURLY)
    type_values(page, "-1.0", "2,5", "0", "-3", "1", suffix="-dev")
    page.session_state["t1 gauge shows"] = "µm from its master"
    page.run()
    page.checkbox[0].check().run()
    press(page, "Save the check")
    verdict = shop.operator_view("P-31", "R1").last_verdict
    assert verdict is not None
    # master 31.252 mm; the mean deviation is (-1 + 2.5 + 0 - 3 + 1) / 5 = -0.1 µm
    assert abs(dict(verdict.subgroups)["over_pin"].mean - 31.2519) < 5e-7
    check = gauged_check(shop, verdict.check_id or 0)
    kept = [each for each in check.readings if each.characteristic == "over_pin"]
    assert [each.text for each in kept] == ["-1.0", "2,5", "0", "-3", "1"]
    assert {each.unit for each in kept} == {"um from master 31.252 mm"}
    assert [str(each.value) for each in kept] == ["31.2510", "31.2545", "31.252", "31.249", "31.253"]
    press(page, "Strike a check out")
    write(page, "Why?", "wrong pieces")
    press(page, "Strike it out")
    again = run_page(HOURLY)
    assert again.selectbox(key=f"again-{verdict.check_id} gauge shows").value == "µm from its master"
    with shop.store.reading() as shelf:
        assert '"2,5"' in str(shelf.draft("check|R1|P-31"))


def test_the_size_stands_beside_a_typed_deviation(run_page: RunPage) -> None:
    page = run_page(HOURLY)
    type_values(page, "-1,5", "x", "", "", "", suffix="-dev")
    page.session_state["t1 gauge shows"] = "µm from its master"
    page.run()
    data = json.loads(page.get("bidi_component")[0].proto.json)
    assert [(each["piece"], each["says"]) for each in data["beside"]] == [(1, "31.2505 mm")]
    assert [(each["piece"], each["text"]) for each in data["refusals"]] == [(2, "x")]


def test_a_check_can_be_dated_back_by_the_clock(shop: Station, run_page: RunPage) -> None:
    page = run_page(HOURLY)
    type_values(page, *VALUES)
    page.run()
    write(page, "Pieces made at", "08:40")
    page.checkbox[0].check().run()
    press(page, "Save the check")
    last = shop.operator_view("P-31", "R1").last_check
    assert last is not None
    assert shop.now() - last == timedelta(minutes=20)


def test_the_pictures_hold_the_checks(run_page: RunPage) -> None:
    page = run_page(HOURLY)
    assert len(page.get("vega_lite_chart")) == 1
    assert "31.2506" in words(page)  # the mean of the last hour's five values, by hand
