"""Ten planted stories, A to J, of the demo shop."""

from collections.abc import Iterator

from spc.simulator.cell import Shop, Story

__all__ = ["demo_stories"]


def demo_stories(shop: Shop) -> tuple[Story, ...]:
    """List everything that happens by plan in the twenty days of the demo shop, story A first."""
    return (*_dies_and_bars(shop), *_gauges_and_people(shop), *_starts_and_settings(shop))


def _dies_and_bars(shop: Shop) -> Iterator[Story]:
    day = shop.day
    yield Story(
        "A", "first_life", "R1", "KS-24", "over_pin", day(1), day(6, 30),
        "The first die set wears steadily; the operators follow with the slide, so the size looks flat.",
        {},
    )  # fmt: skip
    yield Story(
        "B", "chip", "R1", "KS-24", "over_pin", day(13, 17, 35), day(13, 20),
        "A die tooth chips without any event; the first look misses it, the second sees a chip mark.",
        {"step_um": 3.0, "pitch_step_um": 9.0, "runout_factor": 2.0},
    )  # fmt: skip
    yield Story(
        "C", "hard_batch", "R1", "SW-32", "over_wire", day(7, 16, 20), day(8, 5),
        "A bar batch that is too hard: the size steps up and the dies wear faster while it lasts.",
        {"step_um": 4.0, "wear_factor": 1.8, "pieces": 3000.0},
    )  # fmt: skip


def _gauges_and_people(shop: Shop) -> Iterator[Story]:
    day = shop.day
    yield Story(
        "D", "gauge_zero", "R2", "KS-38", "over_pin", day(3, 9, 25), day(3, 14, 4),
        "The gauge loses its zero and reads too large until it is set on its master at shift start.",
        {"gauge_um": 6.0},
    )  # fmt: skip
    yield Story(
        "E", "typing", "R2", "KS-38", "over_pin", day(4, 8, 30), day(4, 8, 30),
        "A decimal slip: one value is typed with the point one place too far right.",
        {"mistake": "decimal_slip"},
    )  # fmt: skip
    yield Story(
        "E", "typing", "R1", "KS-24", "over_pin", day(9, 16, 30), day(9, 16, 30),
        "Two digits of one value are swapped while typing.",
        {"mistake": "digits_swapped"},
    )  # fmt: skip
    for number in (7, 8, 9):
        yield Story(
            "F", "", "R2", "KS-38", "over_pin", day(number, 22), day(number, 30),
            "The night shift answers the last single piece at every check, in the machine's 5 µm steps.",
            {"people": "over_adjusting", "slide_step_um": 5.0},
        )  # fmt: skip
    yield Story(
        "I", "loose_stop", "R3", "BG-21", "over_ball", day(13, 25, 35), day(13, 29, 20),
        "The slide stop works loose and the size steps up; nobody answers for more than three hours.",
        {"step_um": 6.5, "people": "absent"},
    )  # fmt: skip
    yield Story(
        "J", "quiet", "R3", "BG-21", "over_ball", day(6), day(10, 30),
        "A quiet week: ordinary wear, ordinary bars, ordinary corrections; nothing else happens.",
        {},
    )  # fmt: skip


def _starts_and_settings(shop: Shop) -> Iterator[Story]:
    day = shop.day
    yield Story(
        "G", "cold_start", "R1", "SW-32", "over_wire", day(16, 6, 1), day(16, 8),
        "A cold start after the weekend without warm-up pieces: the size starts high and falls by itself.",
        {"warm_um": 9.0, "falls_to_37_percent_min": 26.0},
    )  # fmt: skip
    yield Story(
        "H", "short_dwell", "R2", "KS-38", "over_pin", day(14, 10, 20), day(14, 20, 20),
        "The dwell is cut to gain time; the spread widens, the mean stays.",
        {"dwell_s": 0.7, "spread_factor": 1.9},
    )  # fmt: skip
