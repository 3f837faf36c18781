"""The table of `spc capability` for a person, ending in one sentence of meaning."""

from collections.abc import Mapping, Sequence
from typing import Any

from spc.cli.capability_notes import model_words
from spc.cli.figures import decimals_for, fixed
from spc.cli.limits_table import subject
from spc.cli.saying import say, say_rows
from spc.intake import SubgroupsRead

__all__ = ["tell"]

_NAMES = {"cp": "Cp", "cpk": "Cpk", "pp": "Pp", "ppk": "Ppk", "cpm": "Cpm"}
_FEW_CHECKS = "not told: wants 8 checks or more, of 2 pieces or more"


def tell(answer: Mapping[str, Any], notes: Sequence[str], read: SubgroupsRead, confidence: float) -> None:
    """Say the answer of `spc capability` on stdout."""
    share = f"{confidence * 100:g} %"
    say(f"{answer['words'].capitalize()}{subject(read)}")
    say()
    say_rows(_rows(answer))
    say()
    _say_indices(answer, share)
    say()
    say(f"Model: {answer['why']}")
    for note in notes:
        if note != answer["why"]:
            say(_shortened(note, answer["over_time"]))
    if answer["over_time"] is not None and answer["over_time"]["without_slope"] is not None:
        say(_without_slope(answer["over_time"]["without_slope"]))
    if answer["requirement"] is not None:
        say(answer["requirement"]["says"])
    say(_meaning(answer, share))


def _rows(answer: Mapping[str, Any]) -> list[tuple[str, str]]:
    model, seen = model_words(answer["model"]), answer["over_time"]
    digits = decimals_for(min(answer["sigma_within"], answer["sigma_overall"]))
    by = "as counted" if model == "empirical" else f"by the {model} model"
    return [
        ("pieces", f"{answer['n']} in {answer['subgroups']} subgroups"),
        ("mean", fixed(answer["mean"], digits)),
        ("σ within checks", fixed(answer["sigma_within"], digits)),
        ("σ of all pieces", fixed(answer["sigma_overall"], digits)),
        ("99.73 % lie in", f"{_reach(answer['quantiles'], digits)} {by}"),
        ("expected outside", _fallout(answer, by)),
        (f"{model} model", _fit(answer)),
        ("over time", _FEW_CHECKS if seen is None else f"{seen['model']}, {seen['means']}"),
    ]


def _reach(quantiles: Mapping[str, float], digits: int) -> str:
    return f"{fixed(quantiles['q00135'], digits)} … {fixed(quantiles['q99865'], digits)}"


def _fallout(answer: Mapping[str, Any], by: str) -> str:
    ppm, interval, n = answer["fallout_ppm"], answer["fallout_interval_ppm"], answer["n"]
    if interval is None or None in interval.values():
        return f"{ppm:.0f} ppm {by}" if ppm >= 1.0 else f"under 1 ppm, cannot be told from {n} pieces"
    if ppm >= 1.0:
        return f"{ppm:.0f} ppm ({_ppm(interval['low'])} to {_ppm(interval['high'])}) {by}"
    if answer["model"] == "empirical":
        return f"none of {n} pieces; up to {_ppm(interval['high'])} ppm is not ruled out"
    return f"under 1 ppm, cannot be told from {n} pieces"


def _ppm(value: float) -> str:
    return f"{value:.0f}" if value >= 1.0 else "under 1"


def _fit(answer: Mapping[str, Any]) -> str:
    statistic, p = answer["fit"]["anderson_darling"], answer["fit"]["p"]
    if answer["model"] == "empirical":
        return "the pieces themselves, nothing to test"
    if statistic is None:
        return "not tested: too few pieces"
    chance = "p not known below 8 pieces" if p is None else f"p = {p:.3f}" if p >= 0.001 else "p under 0.001"
    return f"Anderson-Darling {statistic:.3f}, {chance}"


def _say_indices(answer: Mapping[str, Any], share: str) -> None:
    """Say every index with two intervals, first the one to go by."""
    first, second = f"{share} interval", "if checks wander"
    if answer["honest_first"]:
        first, second = f"{share} interval, checks wander", "if pieces did not depend on their check"
    last = ("cp", "cpk") if answer["words"] == "performance" else ()
    width = max(16, len(first))
    say(f"{'':<5}  {'':>5}   {first:<{width}}   {second}")
    for key, name in sorted(_NAMES.items(), key=lambda each: each[0] in last):
        if answer.get(key) is not None:
            columns = [_interval(answer[key]), _interval(answer["honest"].get(key))]
            one, two = reversed(columns) if answer["honest_first"] else columns
            line = f"{name:<5}  {answer[key]['estimate']:>5.2f}   {one or '–':<{width}}   {two}"
            say(line.rstrip())


def _interval(index: Mapping[str, float | None] | None) -> str:
    if index is None:
        return ""
    return f"{_index(index['low'])} to {_index(index['high'])}"


def _index(end: float | None) -> str:
    return "not known" if end is None else f"{end:.2f}"


def _shortened(note: str, seen: Mapping[str, Any] | None) -> str:
    """Leave out of the reason what the row over time has said."""
    return note if seen is None else note.removeprefix(f"{seen['model']}: {seen['means']}. ")


def _without_slope(without: Mapping[str, Any]) -> str:
    index = without["ppk"]
    return (
        f"The slope makes {100 * without['share_of_variance']:.0f} % of the variance; if the slide followed it "
        f"perfectly, Ppk would be {index['estimate']:.2f} ({_interval(index)})."
    )


def _meaning(answer: Mapping[str, Any], share: str) -> str:
    """Say what may be promised: the lower end, not the estimate."""
    ends = [each["low"] for each in (answer["ppk"], answer["honest"]["ppk"]) if each is not None]
    low = None if None in ends else min(ends)
    shown = f"nothing better than {low:.2f}" if low is not None and low > 0.0 else "nothing"
    found = f"With {answer['n']} pieces Ppk is {answer['ppk']['estimate']:.2f}; at {share} {shown} may be"
    if answer["words"] == "capability":
        return f"{found} promised for it."
    moved = answer["over_time"] is not None or answer["order"]
    why = "the process did not stand still" if moved else "too few checks to show that it stands still"
    return f"{found} claimed for these pieces, and none of it promised for the next ones: {why}."
