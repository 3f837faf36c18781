"""The entry grid when a value cannot be taken: it stops, says why, and keeps what comes meanwhile."""

from collections.abc import Callable
from pathlib import Path

import pytest
from entry_grid_hand import BY_PIECE, COLUMNS, OVER_PIN, Hand
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
APP = Path(__file__).parent / "apps" / "entry_grid_app.py"
Serve = Callable[..., str]


def test_letters_stop_the_grid_at_once_and_later_values_are_listed(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "letters")
    hand.send([*BY_PIECE[:6], "3l.254", *BY_PIECE[7:11]], 2)
    expect(hand.stop).to_contain_text("Not taken: piece 3 · Over pins")
    expect(hand.stop).to_contain_text("3l.254")
    assert hand.stop.bounding_box() == {"x": 0, "y": 0, **page.viewport_size}  # type: ignore[dict-item]  # a size was set
    assert page.evaluate("window.pips") == 3
    assert hand.stop.locator("[data-stop-held] li").all_inner_texts() == list(BY_PIECE[7:11])
    hand.do("read")
    expect(hand.place(3, 0)).to_be_focused()
    assert page.evaluate("getSelection().toString()") == "3l.254"
    known = hand.known()
    assert [m["text"] for m in known["meanwhile"]] == list(BY_PIECE[7:11])
    assert {(m["column"], m["piece"]) for m in known["meanwhile"]} == {("over_pin", 3)}
    assert hand.texts(0) == (*OVER_PIN[:2], "3l.254", "", "")
    expect(page.locator("[data-do=put]")).to_be_disabled()  # the refused piece comes first
    hand.send([OVER_PIN[2]])
    for text in BY_PIECE[7:11]:
        page.locator("[data-do=put]", has_text=f"Put {text} into").click()
    expect(page.locator("[data-tray]")).to_be_hidden()
    hand.send(BY_PIECE[11:])
    for column, name in enumerate(COLUMNS):
        assert hand.known_texts(name) == BY_PIECE[column::3]
    known = hand.known()
    assert [(m["into_column"], m["into_piece"]) for m in known["meanwhile"]] == [
        ("crest", 3),
        ("runout", 3),
        ("over_pin", 4),
        ("crest", 4),
    ]
    assert [(s["text"], s["why"]) for s in known["struck"]] == [("3l.254", "refused")]


@pytest.mark.parametrize("delay_ms", [0, 2, 20])
def test_a_refusal_from_python_stops_the_grid_and_no_value_lands_wrong(
    serve: Serve, page: Page, delay_ms: int
) -> None:
    """Inch for millimetre: only Python can tell, so the gauge is some values ahead when the stop comes."""
    hand = Hand(page, serve(APP), f"inch{delay_ms}")
    sent = [*BY_PIECE[:6], "1.2305", *BY_PIECE[7:]]
    hand.send(sent, delay_ms)
    expect(hand.stop).to_contain_text("Not taken: piece 3 · Over pins")
    expect(hand.stop).to_contain_text("Allowed: 30 to 33 mm. Gauge piece 3 again.")
    assert page.evaluate("window.pips") == 3
    page.keyboard.press("Escape")
    expect(hand.place(3, 0)).to_be_focused()
    meanwhile = [m["text"] for m in hand.known()["meanwhile"]]
    landed = [hand.place(piece, column).input_value() for piece in range(1, 6) for column in range(3)]
    taken = len(sent) - len(meanwhile)
    assert landed == sent[:taken] + [""] * len(meanwhile)
    assert meanwhile == sent[taken:]


def test_the_stop_ignores_enter_and_save_until_it_is_read(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "deaf")
    hand.send(["abc"])
    for key in ("Enter", "Tab", "Space", "Control+Enter"):
        page.keyboard.press(key)
    expect(hand.stop).to_be_visible()
    expect(page.get_by_text("saved: nothing")).to_be_visible()
    page.keyboard.press("Escape")
    expect(hand.stop).to_be_hidden()
    hand.send(["abc"])  # typed again, refused again
    expect(hand.stop).to_be_visible()
    page.keyboard.press("Escape")
    hand.send(["31.250"])
    expect(hand.place(1, 1)).to_be_focused()


def test_a_read_refusal_stays_marked_after_reload_and_does_not_stop_again(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "marked")
    hand.send(["31.25O", "-1.0"])
    hand.do("read")
    before = hand.known()
    page.reload()
    expect(page.locator("td.refused")).to_contain_text("not taken")
    expect(page.locator("[data-tray]")).to_contain_text("-1.0")
    expect(hand.stop).to_be_hidden()
    assert hand.known() == before


def test_an_unread_refusal_stops_the_grid_again_after_reload(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "unread")
    hand.send(["31.25O", "-1.0"])
    hand.wait_kept()
    page.reload()
    expect(hand.stop).to_contain_text("31.25O")
    expect(hand.stop).to_contain_text("-1.0")


def test_a_refused_value_blocks_completeness_until_it_is_replaced(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "whole")
    hand.send(["99.999"])
    expect(hand.stop).to_be_visible()
    page.keyboard.press("Escape")
    hand.wait_kept()
    refused = page.locator('[data-testid="stExpander"] code').nth(1)
    expect(refused).to_have_text("over_pin/1")
    expect(page.locator("[data-count]")).to_contain_text("0 of 15 in")
    hand.send(["31.250"])
    hand.wait_kept()
    expect(refused).to_have_text("none refused")
