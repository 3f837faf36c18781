"""What no forecast can beat: ``python -m tests.benchmarks.forecast_bound [--nature gamma|regime] [--seeds 1 2 3 4]``.

Beside the station stand four forecasters that are told what no station can know, at the same checks of the same sets:

- *calm*: the station itself, shown every size over pins with bars, wander and warm-up taken out.
- *height read*: told the growth so far, the rate from here on, the slide's gain, wander and warm-up of every check and
  the laws of bars and of first sizes. How high the whole curve stands it has to read from the checks (`true_start`).
- *height told*: told that too. What is to come it judges as the station does (`spc.wear.forecast_life`), taught by
  earlier sets so told.
- *law told*: the die itself, with all its hidden parameters, is worn on many times by the shop's own dice. What this
  one misses is chance that has not been thrown yet.
"""

import math
from dataclasses import replace

import numpy as np

from spc.wear import PastWay, StagePoint, Way, forecast_life, note_stage, past_way, past_ways
from tests.benchmarks.fleet import NATURES, Story, judged, shop_arguments, told
from tests.benchmarks.floor import Book, Mounting
from tests.benchmarks.forecast import GOALS, SEEDS
from tests.benchmarks.lives import LEVELS, STAGES, Asked, Told, asked, forecasts_of, score
from tests.benchmarks.true_start import Kept, Stood, copied
from tests.benchmarks.truth import SetTruth

FUTURES, NEXT_STEPS, MOST_STEPS = 100, 40, 20_000
MOST_SETS = 40


def rows_by(nature: str, seed: int, machines: int = 8, sets: int = 12) -> dict[str, list[Told]]:
    """Forecasts of one fleet: the station's, and those of the four that are told."""
    dice = np.random.default_rng(70_000 + seed)
    kept = Kept(dice)
    story = told(NATURES[nature](seed), machines, sets, mount=kept.mount)
    calm = judged(story.drawing, Book(kept.calm, story.book.events, story.book.sets), machines)
    station, moments = forecasts_of(story), asked(story)
    mountings = [kept.by_set[when.truth.die_set][len(when.seen) - 1].mounting for when in moments]
    read, whole = (_TrueWays(story, kept, dice, is_told=is_told) for is_told in (False, True))
    said = {
        "calm": [each.quantiles for each in forecasts_of(calm)],
        "height read": [read.forecast(when) for when in moments],
        "height told": [whole.forecast(when) for when in moments],
        "law told": [_futures(mounting, dice) for mounting in mountings],
    }
    found = {
        name: [replace(row, quantiles=each) for row, each in zip(station, all_said, strict=True)]
        for name, all_said in said.items()
    }
    return {"station": station, **found}


def _futures(mounting: Mounting, dice: np.random.Generator) -> tuple[float, ...]:
    """Quantiles of the pieces left, by wearing the die on."""
    lefts = []
    for _ in range(FUTURES):
        one = copied(mounting, dice)
        for _ in range(MOST_STEPS):
            one._grow(one._pieces())
            if one.truth.end_age:
                break
        lefts.append((one.truth.end_age or math.inf) - mounting.age)
    return tuple(float(each) for each in np.quantile(lefts, LEVELS))


class _TrueWays:
    """Where every set truly stood on the way to each of its ends, at each check; and what earlier sets taught."""

    def __init__(self, story: Story, kept: Kept, dice: np.random.Generator, *, is_told: bool) -> None:
        self.by_set = {
            name: [_ways(each, dice, is_told=is_told) for each in stood]
            for name, stood in kept.by_set.items()
        }
        in_order = sorted(story.book.sets, key=lambda each: each.times[-1])
        self.off = [(each.times[-1], _taught(each, self.by_set[each.die_set])) for each in in_order]

    def forecast(self, when: Asked) -> tuple[float, ...]:
        now = when.seen[-1].time
        earlier = [ways for at, ways in self.off if at < now][-MOST_SETS:]
        ways = self.by_set[when.truth.die_set][len(when.seen) - 1]
        past = {way.characteristic: past_ways([each[way.characteristic] for each in earlier]) for way in ways}
        found = forecast_life(ways, past)
        assert found is not None
        return tuple(map(float, found.pieces))


def _ways(stood: Stood, dice: np.random.Generator, *, is_told: bool) -> tuple[Way, ...]:
    """The ways to both ends, with the mean growth to the next check as the rate."""
    mounting = stood.mounting
    die, drawing, pieces = mounting.die, mounting.drawing, mounting.desk.machine.pieces_a_check
    grown = []
    for _ in range(NEXT_STEPS):
        one = copied(mounting, dice)
        one.die.grow(pieces, one.share, one.faster)
        grown.append((one.die.wear_um - die.wear_um, one.die.lead_um - die.lead_um))
    size, lead = 1000.0 * np.mean(grown, axis=0) / pieces
    start, sd = (die.start_um, 0.0) if is_told else (stood.start_um, stood.start_sd_um)
    length = mounting.desk.machine.gain * drawing.travel_um - start
    sign = 1.0 if lead >= 0.0 else -1.0
    age = mounting.age
    return (
        Way("over_pin", "travel", length, die.wear_um, sd, float(size), 0.0, age),
        Way(
            "lead_error", "upper", drawing.lead_limit_um, sign * die.lead_um, 0.0, float(abs(lead)), 0.0, age
        ),
    )


def _taught(truth: SetTruth, ways: list[tuple[Way, ...]]) -> dict[str, PastWay]:
    """What one set leaves to the next, as `spc.station.finished_life` keeps it, with its true end."""
    found = {}
    for i, last in enumerate(ways[-1]):
        points: tuple[StagePoint, ...] = ()
        for each in ways:
            points = note_stage(points, each[i])
        ended = truth.end_age if last.characteristic == truth.limited_by else None
        found[last.characteristic] = past_way(last, points, ended)
    return found


def table(rows: dict[str, list[Told]]) -> list[str]:
    """Losses beside the goals, a line a stage; all as ratios to the same better plain rule."""
    lines = ["| of life | | " + " | ".join(rows) + " | goal |", "|---" * (len(rows) + 3) + "|"]
    for stage in STAGES:
        scores = [
            score([each for each in told if each.stage == stage and each.ended_before >= 1])
            for told in rows.values()
        ]
        for name, goal, of in (
            ("median error", GOALS[stage][1], "error"),
            ("pinball loss", GOALS[stage][0], "pinball"),
        ):
            reached = " | ".join(f"{getattr(each, of):.2f}" for each in scores)
            lines.append(f"| {stage:.0%} | {name} | {reached} | {goal:.2f} |")
    return lines


def main() -> None:
    """Run the fleets and print the table."""
    chosen = shop_arguments(__doc__, seeds=SEEDS).parse_args()
    for nature in chosen.nature:
        rows: dict[str, list[Told]] = {}
        for seed in chosen.seeds:
            for name, found in rows_by(nature, seed).items():
                rows.setdefault(name, []).extend(found)
        print(f"\nBound of the forecast, {nature} shop, seeds {chosen.seeds}, 8 machines x 12 die sets each")
        print("\n".join(table(rows)))


if __name__ == "__main__":
    main()
