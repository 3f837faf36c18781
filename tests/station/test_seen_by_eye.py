"""What the eye finds is evidence of its own: a chip on one tooth moves no size; and what a regrind starts anew."""

from known_shop import KnownShop

from spc.wear.belief import GAIN, RATE, WEAR


def test_a_chip_mark_stops_and_moves_neither_level_nor_wear() -> None:
    """Two dies form one groove: the chip of one is partly healed by the other, and the mean size tells nothing."""
    plain, chipped = KnownShop(3), KnownShop(3)
    plain.hours(20)
    chipped.hours(20)
    plain.answers, chipped.answers = ("ok", "ok"), ("ok", "chip mark")
    quiet, found = plain.hour(), chipped.hour()

    assert found.verdict == "hold"
    assert found.next_action.startswith("Stop, no further piece")
    assert [each.kind for each in found.signals] == [*(each.kind for each in quiet.signals), "visual"]
    assert chipped.belief == plain.belief
    assert found.die_life is not None
    assert quiet.die_life is not None
    assert found.die_life.pieces_left == quiet.die_life.pieces_left
    plain.answers = chipped.answers = ("ok", "ok")
    assert [each.verdict for each in chipped.hours(5)] == [each.verdict for each in plain.hours(5)]
    assert chipped.belief == plain.belief


def test_a_reground_set_wears_from_nothing_with_the_growth_of_any_set() -> None:
    shop = KnownShop(4)
    shop.hours(60)
    worn = shop.belief
    shop.log("die_set_removed", "planned", minutes=5)
    shop.log("die_set_reground", "D-1", minutes=10)
    shop.log("die_set_mounted", "D-1", minutes=15)
    shop.log("penetration", "12.200", minutes=16)
    shop.counter, shop.wear_um, shop.slide_um = 0, 0.0, 200.0
    shop.start_um += shop.gain * 200.0
    shop.verdicts.clear()
    first = shop.hour()

    assert worn.mean[WEAR] > 15.0
    assert first.age == 300
    assert shop.belief.checks == 1
    assert shop.belief.mean[WEAR] == 0.0
    assert shop.belief.var(RATE) > 2.0 * worn.var(RATE)
    assert shop.belief.first_offset_um is None


def test_a_set_that_comes_off_healthy_keeps_wear_rate_and_gain_with_a_fresh_slide_zero() -> None:
    shop = KnownShop(4)
    shop.hours(60)
    before = shop.belief
    shop.log("die_set_removed", "part_change", minutes=5)
    shop.log("die_set_mounted", "D-1", minutes=15)
    shop.log("penetration", "12.200", minutes=16)
    shop.start_um += shop.gain * (200.0 - shop.slide_um) + 3.0  # set up by eye, 3 µm from where it was
    shop.counter, shop.slide_um = 0, 200.0
    back = shop.hour()

    assert back.age == 60 * 300 + 300
    for i in (WEAR, RATE, GAIN):
        assert abs(shop.belief.mean[i] - before.mean[i]) < 0.5 * before.var(i) ** 0.5 + 0.5 * (i == WEAR)
    assert {each.kind for each in back.signals} <= {"travel_used"}
    shop.hours(10)
    assert max(map(shop.off_sds, (WEAR, RATE, GAIN))) < 2.6
