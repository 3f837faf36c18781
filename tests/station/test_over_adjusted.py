"""Over-adjustment told from the demo's night shift and from a chased slide: process.md, reaction plan row 8."""

from typing import Any

from shaft import check, event, open_shop, running

from spc.shop import Verdict


def chased(hours: int) -> list[Verdict]:
    """A quiet size under a slide that is moved 4 µm in and out, check after check."""
    live = open_shop()
    running(live, 10)
    said = []
    for hour in range(11, 11 + hours):
        depth = 0.004 if hour % 2 else 0.0
        live.log(event(hour - 0.5, "penetration", f"{12.340 + depth:.3f}"))
        said.append(live.check_in(check(hour, 31.250 - 0.8 * depth, 300 * hour)))
    return said


def told(said: list[Verdict]) -> list[str]:
    return [each.says for verdict in said for each in verdict.explained if each.cause == "over_adjustment"]


def test_a_chased_slide_is_told_with_its_numbers() -> None:
    said = chased(8)

    assert told(said[:3]) == []  # three moves may be anything
    assert len(told(said)) == 5
    assert told(said)[-1].startswith("8 moves of the slide in 8 checks, 32 µm in all, 0 µm net; by the dies")
    assert "Leave the slide where it is" in said[-1].next_action


def test_it_raises_nothing_by_itself() -> None:
    # What logged events wholly explain stands in `explained`, not in `signals` (contract section 5).
    assert {each.verdict for each in chased(8)} == {"run"}


def after_a_chase(**gauged: Any) -> Verdict:
    """The check after six moves to and fro and a seventh."""
    live = open_shop()
    running(live, 10)
    for hour in range(11, 17):
        depth = 0.004 if hour % 2 else 0.0
        live.log(event(hour - 0.5, "penetration", f"{12.340 + depth:.3f}"))
        live.check_in(check(hour, 31.250 - 0.8 * depth, 300 * hour))
    live.log(event(16.5, "penetration", "12.344"))
    return live.check_in(check(17, counter=5100, **gauged))


def test_beside_a_signal_it_is_one_of_its_causes() -> None:
    jumped = next(each for each in after_a_chase(mean=31.258).signals if each.kind == "beyond_limits")
    assert "over_adjustment" in {each.cause for each in jumped.explanations}
    assert sum(each.weight for each in jumped.explanations) <= 1.0
    assert len(jumped.explanations) <= 2


def test_what_surprises_a_forecast_that_knows_the_moves_is_first_of_all_something_else() -> None:
    # The moves are logged and taken out of the forecast: 11 µm above it are no echo of them.
    jumped = next(each for each in after_a_chase(mean=31.258).signals if each.kind == "beyond_limits")
    assert jumped.explanations[0].cause == "step"


def test_pieces_of_one_check_share_one_setting_so_moves_widen_no_spread() -> None:
    pieces = [f"{31.2468 + each:.4f}" for each in (0.0, 0.009, -0.0085, 0.007, -0.0075)]
    verdict = after_a_chase(pieces=pieces)
    spread = next(each for each in verdict.signals if each.kind == "spread")
    assert "over_adjustment" not in {each.cause for each in spread.explanations}
    assert "over_adjustment" in {each.cause for each in verdict.explained}


def test_a_quiet_slide_is_not_accused() -> None:
    live = open_shop()
    running(live, 12)
    verdict = live.check_in(check(13, 31.2502, 3900))
    assert told([verdict]) == []
