"""Learning: ``python -m tests.benchmarks.learning [--nature gamma|regime] [--seeds …]``.

The same forecasts as in `forecast`, parted by how many die sets had come off before: the 90 % interval is to hold
at every count, and to become narrower.
"""

import numpy as np

from tests.benchmarks.fleet import NATURES, shop_arguments, told
from tests.benchmarks.lives import STAGES, Told, forecasts_of

SEEDS = tuple(range(21, 33))
COUNTS = ((0, 0), (1, 1), (2, 4), (8, 14), (25, 40))
"""Finished sets before: exactly 0 and 1, about 3, 10 and 30."""


def rows_of(nature: str, seeds: tuple[int, ...], machines: int = 4, sets: int = 10) -> list[Told]:
    """Forecasts of fleets small enough to see their first sets often."""
    return [row for seed in seeds for row in forecasts_of(told(NATURES[nature](seed), machines, sets))]


def table(rows: list[Told]) -> list[str]:
    """Coverage and width, relative to what was left, by the number of sets before."""
    lines = ["| finished sets before | n | holds, all stages | " + " | ".join(f"at {s:.0%}" for s in STAGES)]
    lines[0] += " | width / left, at 50 % | median error / left, at 50 % |"
    lines.append("|---" * 9 + "|")
    for low, high in COUNTS:
        here = [each for each in rows if low <= each.finished_before <= high]
        half = [each for each in here if each.stage == 0.5]
        by_stage = " | ".join(_share([each for each in here if each.stage == stage]) for stage in STAGES)
        width = _median([(each.quantiles[4] - each.quantiles[0]) / each.left for each in half])
        error = _median([abs(each.quantiles[2] - each.left) / each.left for each in half])
        count = f"{low}" if low == high else f"{low} to {high}"
        lines.append(f"| {count} | {len(here)} | {_share(here)} | {by_stage} | {width} | {error} |")
    return lines


def _median(values: list[float]) -> str:
    return f"{np.median(values):.2f}" if values else "–"


def _share(rows: list[Told]) -> str:
    holds = [each.quantiles[0] <= each.left <= each.quantiles[4] for each in rows]
    return f"{np.mean(holds):.2f}" if holds else "–"


def main() -> None:
    """Run the fleets and print the table."""
    chosen = shop_arguments(__doc__, seeds=SEEDS).parse_args()
    for nature in chosen.nature:
        print(f"\nLearning, {nature} shop, seeds {chosen.seeds}, 4 machines x 10 die sets each")
        print("\n".join(table(rows_of(nature, tuple(chosen.seeds)))))


if __name__ == "__main__":
    main()
