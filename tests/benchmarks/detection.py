"""What changed: ``python -m tests.benchmarks.detection [--nature …] [--quiet-seeds …] [--seeds …] [--open]``.

Prints checks between false alarms on quiet histories (wearing, corrected, bars changed: all logged or expected),
and how a step, a grown spread and a quickened wear that nobody logs are found; a plain chart stands beside it.
`--open` adds a line for each change that was missed. How soon they can be found at all says `detection_bound`.
"""

from collections import Counter
from collections.abc import Sequence

from tests.benchmarks.fleet import NATURES, shop_arguments, told
from tests.benchmarks.rings import (
    CHARACTERISTICS,
    LOOKED_AFTER,
    RIGHT,
    Found,
    Quiet,
    changes_found,
    mean_checks,
    quiet_alarms,
)
from tests.benchmarks.truth import Change

QUIET_SEEDS, SEEDS, AT_CHECKS, CHANGED_SET = tuple(range(11, 19)), tuple(range(11, 19)), (18, 30), 2
GOALS = {"step": (8.0, 2.5), "spread": (2.0, 3.5), "rate": (5.0, 14.0)}
"""Size of each change (a step's in µm, where a piece spreads by 2 to 3), and the checks within which it is to be found
on average."""


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
            change = Change(kind, at, GOALS[kind][0], min(CHANGED_SET, sets - 1))
            found += changes_found(told(shop, machines, sets, [change]))
    return found


def changed_line(kind: str, found: list[Found], beside: str = "") -> str:
    """One line of the table; a change that was missed counts with all the checks looked at."""
    amount, goal = GOALS[kind]
    missed = sum(each.delay is None and each.looked == LOOKED_AFTER for each in found)
    gone = sum(each.delay is None and each.looked < LOOKED_AFTER for each in found)
    heard = [each for each in found if each.delay]
    right = sum(each.named == RIGHT[kind] for each in heard)
    names = ", ".join(f"{name} {n}" for name, n in Counter(each.named for each in heard).most_common())
    mean = mean_checks([(each.delay, each.looked) for each in found])
    chart = mean_checks([(each.chart_delay, each.looked) for each in found])
    return (
        f"| {kind} {amount:g}{beside} | {len(found)} | {missed} | {gone} | {mean:.1f} ({goal:g}) "
        f"| {right / max(len(heard), 1):.0%}: {names} | {chart:.1f} |"
    )


def changed_lines(kind: str, found: list[Found]) -> list[str]:
    """A line for all changes of a kind; for steps also by what else began at that check."""
    parts = {", with new bars": "bars", ", after a start": "start", ", with neither": ""}
    lines = [changed_line(kind, found)]
    if kind == "step":
        split = ((words, [e for e in found if e.beside == beside]) for words, beside in parts.items())
        lines += [changed_line(kind, those, words) for words, those in split if those]
    return lines


def main() -> None:
    """Run the histories and print the tables."""
    parser = shop_arguments(__doc__, quiet_seeds=QUIET_SEEDS, seeds=SEEDS)
    parser.add_argument("--open", action="store_true", help="say of each change missed how its check stood")
    chosen = parser.parse_args()
    for nature in chosen.nature:
        if chosen.quiet_seeds:
            print(f"\nQuiet, {nature} shop, seeds {chosen.quiet_seeds}, 4 machines x 6 die sets each")
            print("\n".join(quiet_lines(nature, chosen.quiet_seeds)), flush=True)
        if chosen.seeds:
            print(f"\nChanged, {nature} shop, seeds {chosen.seeds}, 6 machines, at checks {AT_CHECKS}")
            print("| change | n | missed | gone | mean checks (goal) | named rightly | X-bar and R |")
            print("|---|---|---|---|---|---|---|")
            missed: list[str] = []
            for kind in GOALS:
                found = changed(nature, kind, chosen.seeds)
                print("\n".join(changed_lines(kind, found)), flush=True)
                missed += [f"{kind}: {each.opened}, {each.beside}" for each in found if not each.delay]
            if chosen.open:
                print("\n".join(missed), flush=True)


if __name__ == "__main__":
    main()
