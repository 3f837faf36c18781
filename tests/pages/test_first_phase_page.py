"""Limits from a chosen period, their history, the promise and the choice of a chart, on the page."""

from collections.abc import Callable

from small_shop import press, twenty_checks, words, write
from streamlit.testing.v1 import AppTest

from spc.station import Station

RunPage = Callable[[str], AppTest]
PAGE = "plan_limits:plan_page"


def chosen(run_page: RunPage) -> AppTest:
    page = run_page(PAGE)
    next(each for each in page.selectbox if each.label == "Limits of").set_value("over_pin").run()
    assert not page.exception
    return page


def test_leave_a_check_out_with_a_reason_and_sign(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    page = chosen(run_page)
    assert "Nobody has signed limits on R1 yet" in words(page)
    assert "with every check" not in words(page)
    press(page, "Leave it out")
    assert "Say what was different there" in words(page)
    write(page, "What was different there", "cold gauge")
    press(page, "Leave it out")
    says = words(page)
    assert "cold gauge" in says
    assert "with every check" in says
    press(page, "Sign these limits")
    assert "Give a name" in words(page)
    assert "Say why these limits" in words(page)
    write(page, "Signed by", "Q. Lead")
    write(page, "Why these limits", "proving run")
    press(page, "Sign these limits")
    says = words(page)
    assert not page.exception
    assert "Signed: the limits of over pins on R1, by Q. Lead. They judge from the next check on." in says
    assert "Q. Lead: proving run" in says
    (only,) = shop.limits_history("P-31", "R1", "over_pin")
    assert (only.subgroups, only.by, [each.reason for each in only.excluded]) == (
        22,
        "Q. Lead",
        ["cold gauge"],
    )


def test_what_was_left_out_can_come_back(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    page = chosen(run_page)
    write(page, "What was different there", "cold gauge")
    press(page, "Leave it out")
    press(page, "Take all of them back in")
    assert "cold gauge" not in words(page)


def test_too_few_checks_are_refused_in_words(run_page: RunPage) -> None:
    says = words(chosen(run_page))
    assert "No limits from these days" in says
    assert "Choose a longer period" in says


def test_the_promise_stands_size_by_size(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    says = words(run_page(PAGE))
    assert "About one false alarm in 217 checks; a step of 5 µm is found after" in says
    assert "Nothing can be promised yet" in says  # the lead was never gauged


def test_charts_are_compared_for_a_wish(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    page = run_page(PAGE)
    step = next(each for each in page.number_input if each.label.startswith("Step to be found"))
    step.set_value(0.8)
    press(page, "Compare charts")
    says = words(page)
    assert "a chart that remembers is worth it" in says
    assert "<td class=tight>370</td>" in says
    next(each for each in page.number_input if each.label.startswith("Step to be found")).set_value(0.01)
    press(page, "Compare charts")
    assert "so small a step drowns" in words(page).lower()


def test_a_signature_shows_in_the_table_of_limits_at_once(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    page = run_page(PAGE)
    assert "provisional, from 20 checks" in words(page)
    write(page, "Your name", "Q. Lead")
    press(page, "Sign")
    says = words(page)
    assert "signed by Q. Lead, judges from the next check" in says
    assert "Nothing waits for a name here" in says


def test_limits_beyond_the_tolerance_are_said_before_signing(shop: Station, run_page: RunPage) -> None:
    narrower = shop.plans()[0].text.replace("31.232", "31.249").replace("31.268", "31.251")
    twenty_checks(shop)
    shop.take_plan(narrower)
    page = chosen(run_page)
    says = words(page)
    assert "Before you sign" in says
    assert "a mean can leave the tolerance before these limits call" in says
    press(page, "Sign")
    write(page, "Your name", "Q. Lead")
    press(page, "Sign")
    assert "limits that reach beyond the tolerance are signed with a reason" in words(page)
    write(page, "Why these", "sorted by hand")
    press(page, "Sign")
    assert "signed by Q. Lead, judges from the next check" in words(page)


def test_a_capable_size_is_offered_room(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    says = words(chosen(run_page))
    assert "Acceptance limits" in says
    assert "1 piece in 100 out: found by" in says
