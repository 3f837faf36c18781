"""The table of `spc capability` for a person, ending in one sentence of meaning."""

from collections.abc import Mapping
from typing import Any

from spc.cli.figures import decimals_for, fixed
from spc.cli.limits_table import subject
from spc.cli.saying import say, say_rows
from spc.intake import SubgroupsRead

__all__ = ["tell"]

_NAMES = {"cp": "Cp", "cpk": "Cpk", "pp": "Pp", "ppk": "Ppk", "cpm": "Cpm"}


def tell(answer: Mapping[str, Any], read: SubgroupsRead, confidence: float) -> None:
    """Say the answer of `spc capability` on stdout."""
    digits = decimals_for(min(answer["sigma_within"], answer["sigma_overall"]))
    say(f"Capability{subject(read)}")
    say()
    say_rows(
        [
            ("pieces", f"{answer['n']} in {answer['subgroups']} subgroups"),
            ("mean", fixed(answer["mean"], digits)),
            ("σ within checks", fixed(answer["sigma_within"], digits)),
            ("σ of all pieces", fixed(answer["sigma_overall"], digits)),
            ("99.73 % lie in", _reach(answer["quantiles"], digits)),
            ("expected outside", _fallout(answer["fallout_ppm"], answer["n"])),
            ("normal model", _normality(answer["normality"])),
        ]
    )
    say()
    share = f"{confidence * 100:g} %"
    say(f"{'':<5}  {'':>5}   {f'{share} interval':<16}   if checks wander")
    for key, name in _NAMES.items():
        if answer[key] is not None:
            honest = answer["honest"].get(key)
            line = f"{name:<5}  {answer[key]['estimate']:>5.2f}   {_interval(answer[key]):<16}   {_interval(honest)}"
            say(line.rstrip())
    say()
    if answer["warning"]:
        say(answer["warning"])
    say(_meaning(answer, share))


def _reach(quantiles: Mapping[str, float], digits: int) -> str:
    return f"{fixed(quantiles['q00135'], digits)} … {fixed(quantiles['q99865'], digits)} by the normal model"


def _fallout(ppm: float, n: int) -> str:
    return (
        f"{ppm:.0f} ppm by the normal model" if ppm >= 1.0 else f"under 1 ppm, cannot be told from {n} pieces"
    )


def _normality(test: Mapping[str, float | None]) -> str:
    statistic, p = test["anderson_darling"], test["p"]
    if statistic is None:
        return "not tested: too few pieces"
    chance = "p not known below 8 pieces" if p is None else f"p = {p:.3f}" if p >= 0.001 else "p under 0.001"
    return f"Anderson-Darling {statistic:.3f}, {chance}"


def _interval(index: Mapping[str, float] | None) -> str:
    return "" if index is None else f"{index['low']:.2f} to {index['high']:.2f}"


def _meaning(answer: Mapping[str, Any], share: str) -> str:
    """Say what may be promised: the lower end, not the estimate."""
    honest = answer["honest"]["ppk"]
    return (
        f"With {answer['n']} pieces Ppk is {answer['ppk']['estimate']:.2f}; at {share} nothing better than "
        f"{honest['low']:.2f} may be promised for it."
    )
