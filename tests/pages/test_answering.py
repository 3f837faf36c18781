"""Answering a verdict from the hourly page: who may, what is kept, and where it is shown."""

from collections.abc import Callable

from small_shop import press, words, write
from streamlit.testing.v1 import AppTest

from spc.station import Station

RunPage = Callable[[str], AppTest]
HOURLY = "hourly:hourly_page"
OUTSIDE = ("31.271", "31.250", "31.248", "31.251", "31.249")


def on_hold(shop: Station) -> int:
    """A check with a piece over the upper limit of 31.268; its id."""
    check = {"machine": "R1", "part": "P-31", "counter": 760, "time": "2026-03-02T08:50:00"}
    verdict = shop.check_in({**check, "values": {"over_pin": list(OUTSIDE), "look": ["ok"]}})
    assert verdict.verdict == "hold"
    assert verdict.check_id is not None
    return verdict.check_id


def labels(page: AppTest) -> list[str]:
    return [each.label for each in page.button]


def test_a_verdict_that_lets_run_on_asks_for_no_answer(run_page: RunPage) -> None:
    assert "Answer it" not in labels(run_page(HOURLY))


def test_an_answer_is_kept_and_shown_with_the_verdict(shop: Station, run_page: RunPage) -> None:
    check_id = on_hold(shop)
    page = press(run_page(HOURLY), "Answer it")
    next(each for each in page.selectbox if each.label == "What was found?").set_value("gauge_zero")
    write(page, "What was done?", "gauge set, piece 1 gauged again")
    write(page, "Who?", "MK <b>")
    press(page, "Keep the answer")
    assert not page.exception
    kept = shop.answer_to(check_id)
    assert kept is not None
    assert (kept.cause, kept.action, kept.by) == ("gauge_zero", "gauge set, piece 1 gauged again", "MK <b>")
    says = words(run_page(HOURLY))
    assert "the gauge was off its master: gauge set, piece 1 gauged again" in says
    assert "by MK &lt;b&gt;" in says


def test_the_last_answer_counts_on_the_page_and_in_the_review(shop: Station, run_page: RunPage) -> None:
    check_id = on_hold(shop)
    shop.answer(check_id, "a burr on the piece", "", by="IL")
    page = press(run_page(HOURLY), "Answer it anew")
    write(page, "What was done?", "sorted, 3 scrapped")
    press(page, "Keep the answer")
    assert "sorted, 3 scrapped" in words(run_page(HOURLY))
    held = shop.review("P-31", "R1").held
    assert [(each.check_id, each.answer) for each in held] == [(check_id, "sorted, 3 scrapped")]


def test_an_answer_that_says_nothing_is_refused(shop: Station, run_page: RunPage) -> None:
    check_id = on_hold(shop)
    page = press(run_page(HOURLY), "Answer it")
    press(page, "Keep the answer")
    assert "what was found or what was done" in str(page.session_state["answer refused"])
    assert shop.answer_to(check_id) is None


def test_a_check_dated_a_little_ahead_can_be_answered(shop: Station) -> None:
    check = {"machine": "R1", "part": "P-31", "counter": 760, "time": "2026-03-02T09:04:00"}
    ahead = shop.check_in({**check, "values": {"over_pin": list(OUTSIDE), "look": ["ok"]}})
    shop.answer(ahead.check_id or 0, "a burr", "")
    found = shop.answer_to(ahead.check_id)
    assert found is not None
    assert (found.cause, found.time) == ("a burr", ahead.time)


def test_a_stop_that_nobody_answers_is_told_with_its_beginning(shop: Station, run_page: RunPage) -> None:
    """Process knowledge, section 6.3: an alarm requires a response; one not acknowledged is told louder with time."""
    check = {"machine": "R1", "part": "P-31"}
    for minute, counter in ((50, 760), (54, 780), (58, 800)):
        values = [f"{float(each) + minute / 1e5:.4f}" for each in OUTSIDE]
        made = {**check, "counter": counter, "time": f"2026-03-02T08:{minute}:00"}
        verdict = shop.check_in({**made, "values": {"over_pin": values, "look": ["ok"]}})
        assert verdict.verdict == "hold"
    assert len(shop.operator_view("P-31", "R1").unanswered) == 3
    assert "Nobody has answered since 08:50: 3 checks in a row ask for a stop." in words(run_page(HOURLY))
    assert verdict.check_id is not None
    shop.answer(verdict.check_id, "batch", "slide moved", by="AK")
    assert shop.operator_view("P-31", "R1").unanswered == ()
    assert "Nobody has answered" not in words(run_page(HOURLY))
