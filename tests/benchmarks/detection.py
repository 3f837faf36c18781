"""What changed: ``python -m tests.benchmarks.detection [--nature gamma|regime] [--quiet-seeds …] [--seeds …]``.

Prints checks between false alarms on quiet histories (wearing, corrected, bars changed: all logged or expected),
and how a step, a grown spread and a quickened wear that nobody logs are found; a plain chart stands beside it.
"""

import argparse
from collections import Counter
from collections.abc import Sequence

import numpy as np

from tests.benchmarks.fleet import NATURES, told
from tests.benchmarks.floor import Change
from tests.benchmarks.rings import (
    CHARACTERISTICS,
    LOOKED_AFTER,
    RIGHT,
    Found,
    Quiet,
    changes_found,
    quiet_alarms,
)

QUIET_SEEDS, SEEDS, AT_CHECKS, CHANGED_SET = (11, 12, 13, 14), (11, 12, 13), (18, 30), 2
GOALS = {"step": (8.0, 2.5), "spread": (2.0, 3.5), "rate": (5.0, 14.0)}
"""Size of each change, and the checks within which it is to be found on average."""


def quiet_lines(nature: str, seeds: Sequence[int], machines: int = 4, sets: int = 6) -> list[str]:
    """Checks between false alarms."""
    all_of = Quiet()
    for seed in seeds:
        found = quiet_alarms(told(NATURES[nature](seed), machines, sets))
        all_of.checks += found.checks
        all_of.alarms += found.alarms
        all_of.kinds += found.kinds
        all_of.charted += found.charted
        all_of.chart_alarms += found.chart_alarms
    n, alarms = all_of.checks, all_of.alarms
    lines = [f"| {n} checks | alarms | checks between (goal 370) |", "|---|---|---|"]
    lines += [f"| {name} | {alarms[name]} | {_between(n, alarms[name])} |" for name in CHARACTERISTICS]
    chart = _between(all_of.charted, all_of.chart_alarms)
    lines.append(f"| X-bar and R, over_pin | {all_of.chart_alarms} | {chart} |")
    kinds = ", ".join(f"{kind} {times}" for kind, times in sorted(all_of.kinds.items()))
    return [*lines, f"kinds: {kinds}"]


def _between(checks: int, alarms: int) -> str:
    return f"{checks / alarms:.0f}" if alarms else f"over {checks}"


def changed(nature: str, kind: str, seeds: Sequence[int], machines: int = 6, sets: int = 3) -> list[Found]:
    """How changes in the third die set of every machine were found."""
    found = []
    for seed in seeds:
        for at in AT_CHECKS:
            shop = NATURES[nature](seed)
            amount = GOALS[kind][0] * (shop.drawing.half_tolerance_um / 18.0 if kind == "step" else 1.0)
            change = Change(kind, at, amount, min(CHANGED_SET, sets - 1))
            found += changes_found(told(shop, machines, sets, [change]))
    return found


def changed_line(kind: str, found: list[Found]) -> str:
    """One line of the table; a change that was missed counts with all the checks looked at."""
    amount, goal = GOALS[kind]
    delays = [each.delay or LOOKED_AFTER for each in found]
    charted = [each.chart_delay or LOOKED_AFTER for each in found]
    heard = [each for each in found if each.delay]
    right = sum(each.named == RIGHT[kind] for each in heard)
    names = ", ".join(f"{name} {n}" for name, n in Counter(each.named for each in heard).most_common())
    return (
        f"| {kind} {amount:g} | {len(found)} | {len(found) - len(heard)} | {np.mean(delays):.1f} ({goal:g}) "
        f"| {right / max(len(heard), 1):.0%}: {names} | {np.mean(charted):.1f} |"
    )


def main() -> None:
    """Run the histories and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--nature", choices=sorted(NATURES), nargs="+", default=sorted(NATURES))
    parser.add_argument("--quiet-seeds", type=int, nargs="*", default=list(QUIET_SEEDS))
    parser.add_argument("--seeds", type=int, nargs="*", default=list(SEEDS))
    chosen = parser.parse_args()
    for nature in chosen.nature:
        if chosen.quiet_seeds:
            print(f"\nQuiet, {nature} shop, seeds {chosen.quiet_seeds}, 4 machines x 6 die sets each")
            print("\n".join(quiet_lines(nature, chosen.quiet_seeds)), flush=True)
        if chosen.seeds:
            print(f"\nChanged, {nature} shop, seeds {chosen.seeds}, 6 machines, at checks {AT_CHECKS}")
            print(
                f"| change | n | missed in {LOOKED_AFTER} | mean checks (goal) | named rightly | X-bar and R |"
            )
            print("|---|---|---|---|---|---|")
            for kind in GOALS:
                print(changed_line(kind, changed(nature, kind, chosen.seeds)), flush=True)


if __name__ == "__main__":
    main()
