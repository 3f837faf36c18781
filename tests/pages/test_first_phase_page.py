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
    assert "say what was different there" in words(page)
    write(page, "What was different there", "cold gauge")
    press(page, "Leave it out")
    says = words(page)
    assert "cold gauge" in says
    assert "with every check" in says
    press(page, "Sign these limits")
    assert "give a name" in words(page)
    assert "say why these limits" in words(page)
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
    assert "choose a longer period" in says


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
