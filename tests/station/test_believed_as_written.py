"""What the station believes after every kind of fact is what the wear model's docstring says it is."""

from collections.abc import Iterator

import numpy as np
import pytest
from two_records import TwoRecords


def history(shop: TwoRecords) -> Iterator[str]:
    """Every kind of input that the docstring names, and the odd ones."""
    shop.mount("D-1")
    shop.move(0)
    for hour in range(24):
        shop.check(40 if hour < 3 else 260, n=5 if hour % 4 else 2)
        if hour % 6 == 5:
            shop.move(3)
        yield f"new dies, hour {hour}"
    shop.change_bars("B-2")
    shop.check(300)
    yield "other bars"
    shop.master(4.0, "over_pin")
    shop.check(250)
    yield "a gauge set on its master"
    shop.master(-2.0, "")
    shop.check(250)
    yield "a gauge, nobody said of which size"
    shop.set_dwell()
    shop.check(250)
    yield "another setting than the slide"
    shop.check(250, odd_piece_um=40.0)
    yield "an odd piece"
    for start in range(2):
        shop.stop()
        for pieces in (20, 90, 200, 400):
            shop.check(pieces, n=3)
            yield f"{pieces} pieces into cold start {start}"
    shop.level_um += 9.0
    for hour in range(6):
        shop.check(280)
        yield f"a step nobody logged, hour {hour}"
    shop.check(0)
    yield "no piece made since the check before"
    shop.master(0.4, "over_pin")
    shop.level_um -= 9.0
    for hour in range(3):
        shop.check(280)
        yield f"a second step, with a gauge that held its zero, hour {hour}"
    yield from re_mounted(shop)
    yield from worn_faster(shop)


def re_mounted(shop: TwoRecords) -> Iterator[str]:
    shop.come_off("part_change")
    shop.mount("D-2")
    for _ in range(6):
        shop.check(500)
        yield "another set"
    shop.stop()
    shop.odd_um = 12.0
    for pieces in (20, 90, 200, 400):
        shop.check(pieces)
        yield f"{pieces} pieces into an odd start"
    shop.odd_um = 0.0
    shop.come_off("part_change")
    for _ in range(2):
        shop.mount("D-1")
        shop.move(-2)
        shop.check(150)
        shop.move(6)
        shop.check(150)
        yield "the first set again"
        shop.check(9000)
        yield "a missing week"
        shop.come_off("part_change")
    shop.regrind("D-1")
    shop.mount("D-1")
    shop.check(350)
    yield "reground"


def worn_faster(shop: TwoRecords) -> Iterator[str]:
    for hour in range(20):
        shop.check(300)
        yield f"reground, hour {hour}"
    shop.faster_um = 9.0
    for hour in range(14):
        shop.check(300)
        yield f"wearing many times as fast, hour {hour}"


@pytest.mark.parametrize("seed", range(3))
def test_the_station_believes_what_the_docstring_says(seed: int) -> None:
    shop = TwoRecords(np.random.default_rng(seed))
    for what in history(shop):
        try:
            shop.is_alike()
        except AssertionError as wrong:
            raise AssertionError(f"{what}: {wrong}") from wrong
    assert {"step", "wear", "warm_up"} <= {each.cause for each in shop.told}
