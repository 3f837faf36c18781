"""An operator's hand on the entry grid: keys, touches and what the page then knows."""

import json
from collections.abc import Iterable
from typing import Any

from playwright.sync_api import Locator, Page, expect

COLUMNS = ("over_pin", "crest", "runout")
OVER_PIN = ("31.251", "31.247", "31.254", "31.249", "31.252")
CREST = ("-3.5", "+1.0", "0", "2,5", "-0.4")
RUNOUT = ("0.007", "0.011", "0.004", "0.009", "0.012")
BY_PIECE = tuple(text for piece in zip(OVER_PIN, CREST, RUNOUT, strict=True) for text in piece)


class Hand:
    """One operator at one page; every key is a real key press, never a filled input."""

    def __init__(self, page: Page, address: str, user: str, **query: str) -> None:
        self.page = page
        more = "".join(f"&{name}={value}" for name, value in query.items())
        page.add_init_script(
            "window.pips = 0; const start = OscillatorNode.prototype.start;"
            "OscillatorNode.prototype.start = function (at) { window.pips += 1; return start.call(this, at); };"
        )
        page.goto(f"{address}/?user={user}{more}")
        expect(self.place(1, 0)).to_be_visible()

    def send(self, texts: Iterable[str], delay_ms: float = 2, suffix: str = "Enter") -> None:
        """Send values as a keyboard gauge does."""
        for text in texts:
            self.page.keyboard.type(text, delay=delay_ms)
            self.page.keyboard.press(suffix)

    def place(self, piece: int, column: int) -> Locator:
        return self.page.locator(f"tbody tr:nth-child({piece}) td:nth-of-type({column + 1}) input")

    def texts(self, column: int, pieces: int = 5) -> tuple[str, ...]:
        return tuple(self.place(piece, column).input_value() for piece in range(1, pieces + 1))

    def do(self, name: str) -> None:
        self.page.locator(f"[data-do={name}]").click()

    @property
    def stop(self) -> Locator:
        return self.page.locator("[data-stop]")

    def wait_kept(self) -> None:
        """Wait until the server has the newest list and the page has run to its end."""
        expect(self.page.locator("[data-count]")).to_contain_text("· kept")
        self.page.locator('[data-testid="stApp"][data-test-script-state="notRunning"]').wait_for()

    def known(self) -> dict[str, Any]:
        """The state that Python holds."""
        self.wait_kept()
        content = self.page.locator('[data-testid="stExpander"] code').first.text_content()
        assert content is not None
        record: dict[str, Any] = json.loads(content)
        return record

    def known_texts(self, column: str) -> tuple[str, ...]:
        return tuple(cell["text"] for cell in self.known()["cells"][column])

    def saved(self) -> dict[str, Any]:
        """What the page saved last."""
        shown = self.page.locator("code", has_text="saved: {")
        expect(shown).to_be_visible()
        content = shown.text_content()
        assert content is not None
        record: dict[str, Any] = json.loads(content.removeprefix("saved: "))
        return record
