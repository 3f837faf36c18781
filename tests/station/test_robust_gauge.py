"""A gauge 6 µm off until it is set on its master: told as a step, explained when mastered, and undone."""

import pytest
from known_shop import PLAN, KnownShop, kinds

NARROW = PLAN.replace("lower = 31.232", "lower = 31.240").replace("upper = 31.268", "upper = 31.260")
"""A tolerance of ±10 µm, so that 6 µm matter."""
SEEDS = range(4)


def shop_with_gauge_off(seed: int) -> KnownShop:
    shop = KnownShop(seed, plan=NARROW, sigma_um=1.6, growth_um=0.5, n=8)
    shop.hours(30)
    shop.gauge_um = 6.0
    return shop


def set_on_master(shop: KnownShop) -> None:
    shop.gauge_um = 0.0
    shop.log("gauge_mastered", "6.0", "over_pin", minutes=10)


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_told_as_a_step_that_nothing_explains(seed: int) -> None:
    shop = shop_with_gauge_off(seed)
    told = shop.hours(2)

    assert set(kinds(told)) & {"beyond_limits", "step"}
    assert "step" in [story.cause for each in told[0].signals for story in each.explanations]
    known = [each.cause for verdict in told for each in verdict.explained]
    assert set(known) <= {
        "step",
        "wear",
    }  # the first tells it; a second may carry what was told, never as a cause
    assert "gauge_zero" not in known
    assert told[0].correction is None
    assert told[0].verdict in ("watch", "hold")


@pytest.mark.parametrize("seed", SEEDS)
def test_set_on_its_master_the_change_is_explained_and_the_move_made_meanwhile_undone(seed: int) -> None:
    """The master takes 6 µm off all readings; what the slide made of the false 6 µm is advised back."""
    shop = shop_with_gauge_off(seed)
    shop.hours(6)
    deeper = shop.slide_um
    set_on_master(shop)
    first, *after = shop.hours(8)

    assert [each.cause for each in first.explained] == ["gauge_zero"]
    assert "6.0 µm off" in first.explained[0].says
    assert not set(kinds([first, *after])) & {"beyond_limits", "step", "run_rule", "drift", "wear_rate"}
    back = [float(each.correction.penetration_mm) for each in (first, *after) if each.correction is not None]
    assert back
    assert back[0] < 0.0
    assert shop.slide_um < deeper
    assert abs(shop.level_um) < 3.0


@pytest.mark.parametrize("seed", SEEDS)
def test_a_gauge_wrong_from_the_first_check_on_leaves_wear_alone(seed: int) -> None:
    """Off all along it shows in nothing but its mastering; growth was right throughout."""
    shop = KnownShop(seed, gauge_um=6.0)
    shop.hours(40)
    set_on_master(shop)
    first = shop.hour()

    assert [each.cause for each in first.explained] == ["gauge_zero"]
    assert kinds(shop.verdicts) == []
    assert shop.is_believed()
