"""A spread that grows slowly: told as spread with where from and where to, and no move of the slide hides it."""

import re

from known_shop import KnownShop, kinds

from spc.shop import Signal


def first_told(seed: int) -> tuple[int | None, Signal | None, KnownShop]:
    """Spread of a piece from 2.2 to 3.3 µm over 40 checks, then ten more: when and how it is first told."""
    shop = KnownShop(seed)
    shop.hours(40)
    assert "spread" not in kinds(shop.verdicts)
    for check in range(1, 51):
        shop.sigma_um = 2.2 * (1.0 + 0.5 * min(1.0, check / 40))
        verdict = shop.hour()
        for each in verdict.signals:
            if each.kind == "spread":
                assert verdict.correction is None
                assert verdict.verdict in ("watch", "hold")
                return check, each, shop
    return None, None, shop


def test_slow_growth_is_told_from_where_to_where() -> None:
    """Own simulation of the rule has nine rows in ten told by then; here of eight at least six."""
    rows = [first_told(seed) for seed in range(8)]
    told = [(check, each) for check, each, _ in rows if check is not None and each is not None]

    assert len(told) >= 6
    for _, each in told:
        said = re.search(r"spread grown from (\d\.\d) to (\d\.\d) µm", each.says)
        assert said is not None
        before, now = map(float, said.groups())
        assert 1.9 < before < 2.9  # what was learned in the forty checks before, and a little of the growth
        assert 1.2 < now / before < 2.2
        assert each.explanations[0].cause == "spread"


def test_the_mean_and_the_wear_stay_where_they_were() -> None:
    """Wider pieces throw means about, and that is no step, no drift and no faster wear."""
    for seed in range(3):
        shop = first_told(seed)[2]
        assert not set(kinds(shop.verdicts)) & {"step", "drift", "wear_rate"}
        assert shop.is_believed(2.6)
