"""A verdict as the contract's line: the words and keys that other programs read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from spc.shop.moment import local_text

if TYPE_CHECKING:  # a verdict can say its own line, so its records cannot be imported here
    from spc.shop.die_life import ChangeAdvice, DieLife, Interval90
    from spc.shop.reaction import FirstBad, NextCheck, Reaction
    from spc.shop.verdict import Contain, Correction, Signal, Subgroup, Verdict, WarmGauging

__all__ = ["verdict_line"]

_DIGITS = 7
"""Decimals kept in computed sizes and rates: far below any gauge, and no noise of the last bit in files."""


def verdict_line(verdict: Verdict) -> dict[str, Any]:
    """Return section 5 of the contract, in its order of keys; `check_id` stands last where it is known."""
    line: dict[str, Any] = {
        "time": local_text(verdict.time, verdict.zone),
        "machine": verdict.machine,
        "part": verdict.part,
        "die_set": verdict.die_set,
        "counter": verdict.counter,
        "age": verdict.age,
        "purpose": verdict.purpose,
        "verdict": verdict.verdict,
        "signals": [_signal(each, verdict.zone) for each in verdict.signals],
        "explained": [
            {"characteristic": each.characteristic, "cause": each.cause, "says": each.says}
            for each in verdict.explained
        ],
        "correction": None if verdict.correction is None else _correction(verdict.correction),
        "contain": None if verdict.contain is None else _contain(verdict.contain),
        "die_life": None if verdict.die_life is None else _life(verdict.die_life),
        "subgroups": {name: _subgroup(subgroup) for name, subgroup in verdict.subgroups},
        "next_action": verdict.next_action,
        "reaction": None if verdict.reaction is None else _reaction(verdict.reaction),
        "next_check": None if verdict.next_check is None else _next_check(verdict.next_check),
        "notices": [{"characteristic": each.characteristic, "says": each.says} for each in verdict.notices],
    }
    if verdict.no_correction:
        line["no_correction"] = verdict.no_correction
    if verdict.check_id is not None:
        line["check_id"] = verdict.check_id
    return line


def _signal(signal: Signal, zone: str) -> dict[str, Any]:
    return {
        "characteristic": signal.characteristic,
        "kind": signal.kind,
        "since": local_text(signal.since, zone),
        "says": signal.says,
        "explanations": [
            {"cause": each.cause, "weight": each.weight, "says": each.says} for each in signal.explanations
        ],
    }


def _correction(correction: Correction) -> dict[str, Any]:
    return {
        "characteristic": correction.characteristic,
        "penetration_mm": float(correction.penetration_mm),
        "from_mm": float(correction.from_mm),
        "to_mm": float(correction.to_mm),
        "lands_at": {name: round(size, _DIGITS) for name, size in correction.lands_at},
    }


def _contain(contain: Contain) -> dict[str, Any]:
    return {"from_counter": contain.from_counter, "to_counter": contain.to_counter, "pieces": contain.pieces}


def _reaction(reaction: Reaction) -> dict[str, Any]:
    return {
        "first": reaction.first,
        "pattern": reaction.pattern,
        "causes": list(reaction.causes),
        "steps": list(reaction.steps),
        "cautions": list(reaction.cautions),
        "first_bad": None if reaction.first_bad is None else _first_bad(reaction.first_bad),
    }


def _first_bad(first_bad: FirstBad) -> dict[str, Any]:
    return {
        "by": first_bad.by,
        "take_counter": first_bad.take_counter,
        "gaugings": first_bad.gaugings,
        "says": first_bad.says,
    }


def _next_check(next_check: NextCheck) -> dict[str, Any]:
    return {"pieces": next_check.pieces, "minutes": next_check.minutes, "says": next_check.says}


def _life(life: DieLife) -> dict[str, Any]:
    left, rate = life.pieces_left, life.wear_um_per_1000
    line: dict[str, Any] = {
        "limited_by": life.limited_by,
        "limit": life.limit,
        "pieces_left": {"p05": left.p05, "p25": left.p25, "p50": left.p50, "p75": left.p75, "p95": left.p95},
        "wear_um_per_1000": {
            "estimate": round(rate.estimate, _DIGITS),
            "low90": round(rate.low90, _DIGITS),
            "high90": round(rate.high90, _DIGITS),
        },
    }
    if life.correction_used_mm is not None:
        line["correction_used_mm"] = life.correction_used_mm
    line["correction_travel_mm"] = life.correction_travel_mm
    line["gain"] = None if life.gain is None else round(life.gain, _DIGITS)
    if life.sudden_end_per_1000 is not None:
        line["sudden_end_per_1000"] = _interval(life.sudden_end_per_1000)
    if life.hours_left is not None:
        hours = life.hours_left
        line["hours_left"] = {
            "early": round(hours.early, 2),
            "likely": round(hours.likely, 2),
            "late": round(hours.late, 2),
        }
    if life.change is not None:
        line["change"] = _change(life.change)
    return line


def _interval(known: Interval90) -> dict[str, Any]:
    return {
        "estimate": round(known.estimate, _DIGITS),
        "low90": round(known.low90, _DIGITS),
        "high90": round(known.high90, _DIGITS),
    }


def _change(advice: ChangeAdvice) -> dict[str, Any]:
    rules = []
    for each in advice.rules:
        cost = round(each.cost_per_piece, _DIGITS)
        rule: dict[str, Any] = {
            "rule": each.rule,
            "pieces": each.pieces,
            "age": each.age,
            "cost_per_piece": cost,
            "costs_more": round(each.costs_more, 2),
        }
        if each.rule == "planned_age":
            rule |= {"age_low90": each.age_low90, "age_high90": each.age_high90}
        rules.append(rule)
    return {
        "by": advice.by,
        "pieces": advice.pieces,
        "age": advice.age,
        "rules": rules,
        "says": advice.says,
    }


def _subgroup(subgroup: Subgroup) -> dict[str, Any]:
    line: dict[str, Any] = {"n": subgroup.n, "mean": subgroup.mean, "range": subgroup.range}
    if subgroup.mean_at_reference_setting is not None:
        line["mean_at_reference_setting"] = round(subgroup.mean_at_reference_setting, _DIGITS)
    if subgroup.wear_line is not None:
        line["wear_line"] = _interval(subgroup.wear_line)
    for name in ("centre", "lower", "upper", "spread_upper"):
        value = getattr(subgroup, name)
        if value is not None:
            line[name] = round(value, _DIGITS)
    if subgroup.standing:
        line["limits"] = subgroup.standing
    if subgroup.suspect:
        line["suspect"] = True
    if subgroup.warm is not None:
        line |= _warm(subgroup.warm)
    return line


def _warm(warm: WarmGauging) -> dict[str, Any]:
    """Put the temperatures beside the mean, which is as judged."""
    line: dict[str, Any] = {"mean_as_gauged": warm.mean_as_gauged}
    for name, value in (
        ("temperature_c", warm.part_c),
        ("master_temperature_c", warm.master_c),
        ("temperature_correction_um", warm.correction_um),
        ("temperature_uncertainty_um", warm.uncertainty_um),
    ):
        if value is not None:
            line[name] = round(value, _DIGITS)
    line["temperature_says"] = warm.says
    if warm.notice:
        line["temperature_notice"] = warm.notice
    return line
