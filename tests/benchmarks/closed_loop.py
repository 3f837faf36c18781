"""The race: what parts cost under each policy, as ratios to one that knows all.

Run it with ``python -m tests.benchmarks.closed_loop [--seeds 21 22 23]``; the tables stand in DEVELOPERS.md.
"""

import argparse
import sys
from collections.abc import Callable

from tests.benchmarks.closed_loop_account import Account, Costs
from tests.benchmarks.closed_loop_informed import Informed
from tests.benchmarks.closed_loop_machine import Policy, run_sets
from tests.benchmarks.closed_loop_policies import ByChart, ByCount, ByHand, ByStation, KnowingAll, best_count
from tests.benchmarks.closed_loop_shop import Part, draw_part

__all__ = ["race"]

SEEDS = (11, 12, 13, 14, 15, 16, 17, 18)
SETS = 12
DEADBANDS_UM = (2.0, 3.0, 4.0, 5.0, 6.0, 8.0)
COSTS = Costs()


def race(seeds: tuple[int, ...] = SEEDS, sets: int = SETS) -> dict[str, list[Account]]:
    """Run every policy on the same die sets; one account a part."""
    found: dict[str, list[Account]] = {}
    for seed in seeds:
        part = draw_part(seed)
        for name, policy in _policies(part, sets).items():
            found.setdefault(name, []).append(run_sets(part, range(sets), policy()))
        oracles = [run_sets(part, range(sets), KnowingAll(band, COSTS)) for band in DEADBANDS_UM]
        found.setdefault("oracle", []).append(min(oracles, key=lambda each: each.cost(COSTS)))
    return found


def _policies(part: Part, sets: int) -> dict[str, Callable[[], Policy]]:
    return {
        "by hand, 5 µm": lambda: ByHand(part),
        "X-bar chart": lambda: ByChart(part),
        "fixed count": lambda: ByCount(part, best_count(part, COSTS)),
        "station, no costs in the plan": lambda: ByStation(part, ""),
        "station": lambda: ByStation(part),
        "informed": lambda: Informed(part, COSTS, sets),
    }


def table(found: dict[str, list[Account]]) -> str:
    """Lay the race out, one policy a row; the cost as a mean of ratios over the parts."""
    lines = [
        "| policy | cost ÷ oracle | worst part | bad per 1,000 | passed on | in doubt per 1,000 | moves per set "
        "| checks per set | looks per set | life used | unplanned per set | rms off, µm |",
        "|---|---|---|---|---|---|---|---|---|---|---|---|",
    ]
    for name, accounts in found.items():
        ratios = [a.cost(COSTS) / o.cost(COSTS) for a, o in zip(accounts, found["oracle"], strict=True)]
        total = Account()
        for each in accounts:
            total.add(each)
        k, n = total.pieces / 1000.0, total.sets
        cells = (
            f"{sum(ratios) / len(ratios):.3f}", f"{max(ratios):.3f}", f"{total.bad / k:.2f}",
            f"{(total.bad - total.bad_found) / k:.2f}", f"{total.in_doubt / k:.1f}", f"{total.moves / n:.1f}",
            f"{total.checks / n:.0f}", f"{total.looks / n:.2f}", f"{100 * total.lives_used / n:.1f} %",
            f"{total.unplanned / n:.2f}", f"{(total.square_um2 / total.pieces) ** 0.5:.2f}",
        )  # fmt: skip
        lines.append("| " + " | ".join([name, *cells]) + " |")
    return "\n".join(lines)


def excess(found: dict[str, list[Account]]) -> str:
    """Lay out what each policy costs more than the oracle, cause by cause, in hundredths of the oracle's cost."""
    names = list(Account(pieces=1.0).parts(COSTS))
    lines = ["| policy | " + " | ".join(names) + " |", "|" + "---|" * (len(names) + 1)]
    for name, accounts in found.items():
        pairs = [(a.parts(COSTS), o.parts(COSTS)) for a, o in zip(accounts, found["oracle"], strict=True)]
        more = [
            sum(100.0 * (mine[cause] - best[cause]) / sum(best.values()) for mine, best in pairs) / len(pairs)
            for cause in names
        ]
        lines.append(f"| {name} | " + " | ".join(f"{each:.1f}" for each in more) + " |")
    return "\n".join(lines)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, nargs="+", default=list(SEEDS))
    raced = race(tuple(parser.parse_args().seeds))
    sys.stdout.write(table(raced) + "\n\n" + excess(raced) + "\n")
