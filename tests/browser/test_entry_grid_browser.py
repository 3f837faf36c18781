"""The entry grid under real key presses: every reading in its own place, at every speed."""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest
from entry_grid_hand import BY_PIECE, COLUMNS, CREST, OVER_PIN, RUNOUT, Hand
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
APP = Path(__file__).parent / "apps" / "entry_grid_app.py"
Serve = Callable[..., str]


def saved_texts(record: dict[str, dict[str, list[dict[str, str]]]], column: str) -> tuple[str, ...]:
    return tuple(cell["text"] for cell in record["cells"][column])


@pytest.mark.parametrize(("delay_ms", "suffix"), [(0, "Enter"), (2, "Enter"), (20, "Enter"), (2, "Tab")])
def test_fifteen_readings_land_right_at_gauge_speed(
    serve: Serve, page: Page, delay_ms: int, suffix: str
) -> None:
    hand = Hand(page, serve(APP), f"speed{delay_ms}{suffix}")
    hand.send(BY_PIECE, delay_ms, suffix)
    expect(page.locator("[data-end]")).to_be_focused()
    assert (hand.known_texts("over_pin"), hand.known_texts("crest")) == (OVER_PIN, CREST)
    assert hand.known_texts("runout") == RUNOUT
    expect(page.get_by_text("full runs: 1")).to_be_visible()  # the fragment alone ran
    expect(page.locator('[data-testid="stExpander"] code').last).to_have_text("complete")


def test_a_slow_script_loses_nothing(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP, GRID_APP_SLEEP="1.5"), "slow")
    hand.send(BY_PIECE, 2)
    assert (hand.texts(0), hand.texts(1), hand.texts(2)) == (OVER_PIN, CREST, RUNOUT)
    assert (hand.known_texts("over_pin"), hand.known_texts("crest")) == (OVER_PIN, CREST)
    assert hand.known_texts("runout") == RUNOUT


def test_down_each_characteristic_when_the_layout_says_so(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "down", by="characteristic")
    hand.send(OVER_PIN + CREST + RUNOUT)
    assert (hand.known_texts("over_pin"), hand.known_texts("crest")) == (OVER_PIN, CREST)
    assert hand.known_texts("runout") == RUNOUT


def test_an_enter_too_many_skips_no_place(serve: Serve, page: Page) -> None:
    """A gauge that ends a value with CR and LF sends Enter twice."""
    hand = Hand(page, serve(APP), "crlf")
    for text in BY_PIECE:
        hand.send([text, ""])
    assert (hand.known_texts("over_pin"), hand.known_texts("crest")) == (OVER_PIN, CREST)


def test_a_reading_too_many_writes_over_nothing(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "sixteen")
    hand.send([*BY_PIECE, "31.299", "31.298"])
    expect(hand.stop).to_be_visible()
    hand.do("read")
    assert hand.texts(2) == RUNOUT
    known = hand.known()
    assert [(m["text"], m["fate"]) for m in known["meanwhile"]] == [
        ("31.299", "waiting"),
        ("31.298", "waiting"),
    ]
    hand.do("aside-all")
    assert [m["fate"] for m in hand.known()["meanwhile"]] == ["set aside", "set aside"]
    assert hand.known_texts("over_pin") == OVER_PIN


def test_a_draft_survives_reload_and_goes_on_at_the_next_open_place(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "reload")
    hand.send(BY_PIECE[:7])
    hand.do("skip")
    page.keyboard.type("pin set is away")
    page.keyboard.press("Enter")
    before = hand.known()
    page.reload()
    expect(hand.place(3, 2)).to_be_focused()
    assert hand.known() == before
    assert hand.texts(0) == (*OVER_PIN[:3], "", "")
    hand.send(BY_PIECE[8:])
    assert hand.known_texts("over_pin") == OVER_PIN
    assert hand.known_texts("crest") == (*CREST[:2], "", *CREST[3:])


def test_deviations_show_the_absolute_size_beside(serve: Serve, page: Page) -> None:
    """Size = certified size of the master + deviation; common practice, no source."""
    hand = Hand(page, serve(APP), "deviation")
    hand.send(BY_PIECE)
    hand.wait_kept()
    for piece, text in enumerate(CREST, start=1):
        size = Decimal("28.4992") + Decimal(text.replace(",", ".")) / 1000
        note = hand.place(piece, 1).locator("xpath=following-sibling::span")
        expect(note).to_have_text(f"{size} mm")


def test_skipping_needs_a_reason_in_words(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "skip")
    hand.send(["31.251"])
    hand.do("skip")
    hand.do("skip-yes")
    expect(page.locator("[data-reason-says]")).to_contain_text("A reason in words is needed")
    hand.send(["31.299"])  # the gauge sends while the reason is asked for
    expect(hand.stop).to_contain_text("not taken as a reason")
    page.keyboard.press("Escape")
    hand.do("aside")
    hand.do("skip")
    page.locator("[data-do=pick]", has_text="piece lost").click()
    hand.do("skip-yes")
    expect(hand.place(1, 2)).to_be_focused()
    known = hand.known()
    assert known["cells"]["crest"][0] == {"text": "", "skip": "piece lost", "seen": False}
    assert [m["text"] for m in known["meanwhile"]] == ["31.299"]
    expect(page.locator("td.skipped")).to_contain_text("left out: piece lost")


def test_redo_clears_the_piece_and_keeps_what_was_typed_first(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "redo")
    hand.send(BY_PIECE[:6])
    page.keyboard.type("31.2")
    page.get_by_label("Redo piece 2").click()
    expect(hand.place(2, 0)).to_be_focused()
    hand.send(["31.240", "7", "0.001"])
    expect(hand.place(3, 0)).to_be_focused()
    assert hand.known_texts("over_pin") == (OVER_PIN[0], "31.240", "", "", "")
    struck = [(s["column"], s["piece"], s["text"], s["why"]) for s in hand.known()["struck"]]
    first = zip(COLUMNS, BY_PIECE[3:6], strict=True)
    assert struck == [("over_pin", 3, "31.2", "redo"), *((name, 2, text, "redo") for name, text in first)]


def test_ctrl_enter_saves_with_the_last_value_and_a_new_check_begins_at_its_first_place(
    serve: Serve, page: Page
) -> None:
    hand = Hand(page, serve(APP), "save")
    hand.send(BY_PIECE[:14])
    page.keyboard.type(BY_PIECE[14], delay=2)
    page.keyboard.press("Control+Enter")
    record = hand.saved()
    assert (saved_texts(record, "over_pin"), saved_texts(record, "runout")) == (OVER_PIN, RUNOUT)
    expect(hand.place(1, 0)).to_be_focused()
    assert hand.texts(0) == ("",) * 5
    hand.send(["31.250"])
    assert hand.known_texts("over_pin") == ("31.250", "", "", "", "")


def test_a_tap_on_save_takes_the_value_that_was_not_entered_yet(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "tap")
    page.keyboard.type("31.251", delay=2)
    page.get_by_role("button", name="Save").click()
    assert saved_texts(hand.saved(), "over_pin") == ("31.251", "", "", "", "")


def test_a_column_that_comes_later_is_passed_by_and_can_be_filled(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "later")
    expect(page.locator("td.waits")).to_contain_text("comes later")
    hand.send(BY_PIECE[:3])
    expect(hand.place(2, 0)).to_be_focused()
    hand.place(1, 3).click()
    hand.send(["-0.003"])
    assert hand.known_texts("lead") == ("-0.003",)
    expect(hand.place(2, 0)).to_be_focused()


def test_arrows_and_touch_move_and_correct(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "arrows")
    hand.send(BY_PIECE[:4])
    for key, piece, column in (
        ("ArrowUp", 1, 1),
        ("ArrowLeft", 1, 0),
        ("ArrowDown", 2, 0),
        ("ArrowRight", 2, 1),
    ):
        page.keyboard.press(key)
        expect(hand.place(piece, column)).to_be_focused()
    hand.place(1, 0).click()
    hand.send(["31.260"])  # the old text is selected, so it is replaced whole
    expect(hand.place(2, 1)).to_be_focused()
    assert hand.known_texts("over_pin")[0] == "31.260"
    assert [(s["text"], s["why"]) for s in hand.known()["struck"]] == [("31.251", "typed over")]


def test_a_gauge_is_heard_when_nothing_has_the_focus(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "stray")
    page.get_by_role("heading", name="Hourly check").click()
    expect(page.locator("[data-next]")).to_contain_text("Not listening")
    hand.send(BY_PIECE, 0)
    assert (hand.known_texts("over_pin"), hand.known_texts("runout")) == (OVER_PIN, RUNOUT)


def test_targets_are_big_enough_for_gloves_and_data_is_never_markup(serve: Serve, page: Page) -> None:
    hand = Hand(page, serve(APP), "gloves", label="<img src=x onerror=document.title='hit'>")
    hand.send(BY_PIECE[:3])
    expect(page.locator("thead .label").nth(2)).to_have_text("<img src=x onerror=document.title='hit'>")
    assert page.title() == "entry grid"
    hand.do("skip")
    shown = page.locator("[data-grid] button:visible, [data-grid] input:visible")
    sizes = [box for one in shown.all() if (box := one.bounding_box())]
    assert len(sizes) > 20
    assert min(min(box["width"], box["height"]) for box in sizes) >= 48
