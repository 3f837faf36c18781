"""The reaction to what a check shows: which pattern it is, what to look for and do, in order."""

from collections.abc import Sequence

from spc.intake import copied
from spc.shop import Characteristic, Contain, Correction, Reaction, Signal
from spc.shop.changed import changed
from spc.shop.names import shop_name
from spc.station.context import CheckContext
from spc.station.growth_jump import goes_with_wear, growth_jumped
from spc.station.halving import halving
from spc.station.judged import Judged
from spc.station.pieces import visual_finds
from spc.station.reaction_lists import (
    BY_EYE,
    GAUGE_FIRST,
    PATTERNS,
    SETTINGS,
    STOP_AND_GAUGE,
    STOP_FIRST,
    Pattern,
)
from spc.station.standing import likeliest

__all__ = ["reaction_to"]

_LIKELIER = 0.5
"""Weight from which one explanation outweighs all others together."""
_ONE_WAY = ("step", "wear", "drift", "batch", "setting")
"""Causes that come once and stay."""
_TWO_WAYS = ("spread", "isolated", "suspect_entry")
"""Kinds that may come and go between two pieces."""
_GROUPS = {
    "runout": "round", "out_of_round": "round", "straightness": "straight", "lead_deviation": "lead",
    "mean_travel_deviation": "lead", "start_angle": "lead", "pitch_deviation": "wavy", "travel_variation": "wavy",
    "taper": "taper",
}  # fmt: skip
_LOOKS = (
    ("chip", "chip"), ("crack", "chip"), ("broken", "chip"), ("flake", "flakes"), ("sliver", "flakes"),
    ("torn", "torn"), ("pick", "torn"), ("crest", "open_crest"),
)  # fmt: skip
"""Words in a visual answer and the pattern they stand for."""
_BY_CAUSE = {
    "over_adjustment": "see_saw", "spread": "spread", "odd_piece": "odd_piece", "warm_up": "cold",
    "gauge_zero": "gauge_zero", "entry": "entry",
}  # fmt: skip


def reaction_to(
    context: CheckContext,
    judged: Sequence[Judged],
    signals: Sequence[Signal],
    correction: Correction | None,
    contained: Contain | None,
) -> Reaction | None:
    """Return the ordered reaction to the most pressing signal, for the operator; None where none stands.

    Parameters
    ----------
    contained : Contain or None
        The pieces held back, if any.

    Notes
    -----
    What is found by eye, a step that no event explains and a jump of growth come first and begin with *stop*;
    everything else begins with the gauge.
    """
    if not signals:
        return None
    by_name = {each.characteristic.name: each for each in judged}
    grown = {each.characteristic for each in signals if each.kind == "spread" and likeliest(each) == "spread"}
    found = []
    for each in signals:
        key = _pattern(context, each, by_name.get(each.characteristic))
        if key in ("step", "round_step") and each.kind == "beyond_limits" and each.characteristic in grown:
            key = "jumped"
        pattern = PATTERNS[key]
        if _is_unexplained_step(context, each):
            pattern = changed(pattern, first="stop")
        found.append((pattern.first != "stop", _RANK[key], key, pattern, each))
    _, _, key, pattern, said = min(found, key=lambda each: each[:2])
    reaction = _written(context, key, pattern, said, correction)
    if contained is None or key in ("entry", "copied", "counter", "slide_log"):
        return reaction
    one_way = _is_one_way(context, signals, key) and not _moved_within(context, contained)
    order_kept, by_eye = context.plan.order_kept, key == "chip"
    return changed(
        reaction, first_bad=halving(contained, order_kept=order_kept, one_way=one_way, by_eye=by_eye)
    )


def _moved_within(context: CheckContext, contained: Contain) -> bool:
    """Whether the slide was moved among the pieces held back: then the size may have come back in between."""
    moved, start = context.machine.moved_at, contained.from_counter
    return moved is not None and start is not None and moved > start


_GAUGES = ("jumped", "copied", "set_spread", "entry", "odd_piece", "expected")
"""Patterns with steps of their own, a piece being gauged among them."""
_RANK = {key: place for place, key in enumerate(PATTERNS)}


def _is_unexplained_step(context: CheckContext, signal: Signal) -> bool:
    """Whether a step is what the check tells: at once, or over some checks as more likely than everything else.

    A step that an earlier check of the same row showed still stands while pieces are out.
    """
    if signal.kind == "out_of_tolerance":
        return context.machine.causes.get(signal.characteristic) == "step"
    best = max(signal.explanations, key=lambda each: each.weight, default=None)
    if signal.kind == "beyond_limits":
        return best is None or best.cause == "step"
    return signal.kind == "step" and best is not None and best.cause == "step" and best.weight >= _LIKELIER


def _pattern(context: CheckContext, signal: Signal, judged: Judged | None) -> str:
    """Name the pattern that a signal shows."""
    match signal.kind:
        case "visual":
            return _by_eye(context, signal)
        case "suspect_entry":
            return _doubted(context, signal)
        case "travel_used":
            return "used"
        case "isolated":
            return "odd_piece"
        case "spread":
            return "set_spread" if likeliest(signal) == "setting" else "spread"
    if judged is None:
        return "out"
    cause, group = likeliest(signal), _GROUPS.get(judged.characteristic.kind, "size")
    if cause == "spread" and signal.kind == "beyond_limits" and group in ("size", "round"):
        return "jumped"
    if cause in _BY_CAUSE:
        return _BY_CAUSE[cause]
    if _is_unexplained_step(context, signal):
        return {"size": "step", "lead": "lead_step", "round": "round_step"}.get(group, group)
    if cause in ("batch", "setting"):
        return cause
    if signal.kind == "out_of_tolerance":
        is_gauged = any(each.kind == signal.kind for each in judged.signals)
        return "clash" if cause else "out" if is_gauged else "expected"
    return _slow(context, signal, judged, group)


def _by_eye(context: CheckContext, signal: Signal) -> str:
    answers = {
        answer
        for characteristic in context.plan.looked_at
        if characteristic.name == signal.characteristic
        for _, answer in visual_finds(context.check, characteristic)
    }
    found = {key for word, key in _LOOKS if any(word in answer.lower() for answer in answers)}
    return min(found, key=lambda key: _RANK[key], default="look")


def _doubted(context: CheckContext, signal: Signal) -> str:
    if signal.says == context.machine.doubted_setting:
        return "slide_log"
    if signal.says == context.counter_doubt:
        return "counter"
    return "copied" if signal.says == copied(context.machine.previous, context.check) else "entry"


def _slow(context: CheckContext, signal: Signal, judged: Judged, group: str) -> str:
    """A slow change: with wear or against it, or what else moves a characteristic of this kind."""
    if signal.kind == "wear_rate" and growth_jumped(context, judged):
        return "faster"
    if group != "size":
        return group
    if judged.characteristic.kind == "crest_diameter" and judged.off_um < 0.0:
        return "crest"
    return "wears" if goes_with_wear(judged) else "against"


def _written(
    context: CheckContext, key: str, pattern: Pattern, signal: Signal, correction: Correction | None
) -> Reaction:
    """Put a pattern into steps for the characteristic at hand."""
    steps = _then(context, key, pattern, signal)
    if pattern.whole:
        stop = STOP_FIRST if key in BY_EYE else STOP_AND_GAUGE
        steps = (*(stop if pattern.first == "stop" else GAUGE_FIRST), *steps)
    name = shop_name(signal.characteristic)
    cautions = ["gauging"] if pattern.whole or key in _GAUGES else []
    if pattern.first == "stop":
        cautions.append("hands")
    if correction is not None or (pattern.panel and pattern.first != "stop"):
        cautions.append("panel")
    return Reaction(
        pattern.first,
        pattern.says,
        pattern.causes,
        tuple(each.format(size=name) for each in steps),
        tuple(cautions),
    )


def _then(context: CheckContext, key: str, pattern: Pattern, signal: Signal) -> tuple[str, ...]:
    """What comes after the list; a size that the slide does not set points to what sets it, never to a direction."""
    of = next((each for each in context.plan.gauged if each.name == signal.characteristic), None)
    if (
        of is None
        or of.is_set_by_slide
        or key not in ("wears", "against", "faster", "batch", "out", "expected")
    ):
        return pattern.then
    return (*pattern.then[:-1], _what_sets(of))


def _what_sets(characteristic: Characteristic) -> str:
    what = SETTINGS.get(characteristic.set_by)
    if what is None and characteristic.wears_with_die:
        return "The slide does not set it. Settings as on the set-up sheet: then the dies wear it, book their change."
    if what is None:
        return "The slide does not set it: compare every setting with the set-up sheet."
    return f"The slide does not set it: compare {what} with the set-up sheet."


def _is_one_way(context: CheckContext, signals: Sequence[Signal], key: str) -> bool:
    """Whether the cause came once and stayed: then the middle of the pieces held back tells of both halves."""
    if key == "chip":
        return True
    if any(each.kind in _TWO_WAYS for each in signals):
        return False
    causes = {likeliest(each) for each in signals if each.kind != "travel_used"}
    causes |= {context.machine.causes.get(each.characteristic, "") for each in signals}
    return not causes.isdisjoint(_ONE_WAY)
