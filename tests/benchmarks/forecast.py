"""Pieces left: ``python -m tests.benchmarks.forecast [--nature gamma|regime] [--seeds 1 2 3 4]``.

Prints coverage of the 90 % interval, pinball loss and median absolute error at 25, 50, 75 and 90 % of life, the
two losses as ratios to the better of "usual life minus age" and "straight line through the sizes".
"""

from collections.abc import Sequence

from tests.benchmarks.fleet import NATURES, shop_arguments, told
from tests.benchmarks.lives import STAGES, Told, forecasts_of, score

SEEDS = (1, 2, 3, 4)
GOALS = {0.25: (0.60, 0.55), 0.50: (0.55, 0.45), 0.75: (0.55, 0.45), 0.90: (0.30, 0.25)}


def rows_of(nature: str, seeds: Sequence[int], machines: int = 8, sets: int = 12) -> list[Told]:
    """Forecasts of whole fleets."""
    found = []
    for seed in seeds:
        found += forecasts_of(told(NATURES[nature](seed), machines, sets))
    return found


def table(rows: list[Told]) -> list[str]:
    """Say what came of forecasts made after at least one set had ended, a line a stage."""
    lines = [
        "| of life | n | 90 % interval holds | pinball ratio (goal) | median error ratio (goal) | width / left |"
    ]
    lines.append("|---|---|---|---|---|---|")
    for stage in STAGES:
        here = [each for each in rows if each.stage == stage and each.ended_before >= 1]
        s, (pinball, error) = score(here), GOALS[stage]
        lines.append(
            f"| {stage:.0%} | {s.n} | {s.coverage:.2f} | {s.pinball:.2f} ({pinball:.2f}) "
            f"| {s.error:.2f} ({error:.2f}) | {s.width:.2f} |"
        )
    return lines


def main() -> None:
    """Run the fleets and print the table."""
    chosen = shop_arguments(__doc__, seeds=SEEDS).parse_args()
    for nature in chosen.nature:
        rows = rows_of(nature, chosen.seeds)
        print(f"\nForecast, {nature} shop, seeds {chosen.seeds}, 8 machines x 12 die sets each")
        print("\n".join(table(rows)))


if __name__ == "__main__":
    main()
