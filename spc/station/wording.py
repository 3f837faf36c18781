"""The next action as one sentence for the operator, in the shop's words and the machine's own display sense."""

from decimal import Decimal

from spc.shop import Contain, Correction, Machine, Plan, Signal, Verdict
from spc.shop.names import shop_name
from spc.station.reaction_lists import EXPECTED_OUT, PATTERNS, SETTINGS

__all__ = ["VERDICT_WORDS", "move_sentence", "next_action", "why_adjust"]

VERDICT_WORDS = {
    "run": "Run on",
    "watch": "Look closer",
    "correct": "Adjust",
    "hold": "Stop and hold",
}
_FROM_OUTSIDE = "; back it off further than that first, then bring it in from the shallow side"
"""So that the play of the slide's drive always lies on the same side (common practice, no source)."""


def next_action(verdict: Verdict, plan: Plan) -> str:
    """Say what to do next."""
    kinds: set[str] = {each.kind for each in verdict.signals}
    if verdict.verdict == "run":
        return _run(verdict)
    if verdict.verdict == "correct" and verdict.correction is not None:
        move = f"move the slide {move_sentence(verdict.correction, plan.machine(verdict.machine), plan)}"
        if _stops(verdict):
            return f"Stop, no further piece. Have the dies looked at, then {move} and check again."
        return f"M{move[1:]}. Then check again."
    if verdict.verdict == "watch":
        return _watch(verdict, plan, kinds)
    return _hold(verdict, plan, kinds)


def move_sentence(correction: Correction, machine: Machine, plan: Plan) -> str:
    """Say a slide move as it stands on the machine.

    Returns
    -------
    str
        Such as "12.348 → 12.352 (4 µm deeper; over pins should come to about 31.249 mm)".
    """
    start = machine.shown_setting_mm(correction.from_mm)
    end = machine.shown_setting_mm(correction.to_mm)
    microns = abs(correction.penetration_mm) * 1000
    way = "deeper" if correction.penetration_mm > 0 else "shallower"
    lands = dict(correction.lands_at).get(correction.characteristic)
    characteristic = plan.characteristic(correction.characteristic)
    says = f"{start} → {end} ({_plain(microns)} µm {way}"
    if lands is not None:
        name = shop_name(correction.characteristic)
        decimals = max(0, -int(characteristic.nominal.as_tuple().exponent))
        says += f"; {name} should come to about {lands:.{decimals}f} {characteristic.unit}"
    return says + (_FROM_OUTSIDE if way == "shallower" else "") + ")"


def why_adjust(verdict: Verdict, plan: Plan) -> str:
    """Say what a correction answers: where the mean stands beside its aim; "" where it was not gauged now."""
    if verdict.correction is None:
        return ""
    name = verdict.correction.characteristic
    group, characteristic = verdict.subgroup(name), plan.characteristic(name)
    if group is None:
        return ""
    off_um = (group.mean - float(characteristic.aim)) * characteristic.um_per_unit
    way = "above" if off_um > 0 else "below"
    decimals = max(0, -int(characteristic.nominal.as_tuple().exponent))
    return (
        f"{shop_name(name)}: the mean of {group.n} is {group.mean:.{decimals}f} {characteristic.unit}, "
        f"{abs(off_um):.1f} µm {way} the aim {characteristic.aim}"
    )


def held_back(contain: Contain) -> str:
    """Say which pieces to hold back.

    Examples
    --------
    >>> held_back(Contain(12_605, 13_845, 1_240))
    'Hold back the 1,240 pieces after counter 12,605 up to and with 13,845'
    """
    if contain.pieces is None:
        return "Hold back all pieces made since the last good check"
    if contain.pieces == 0:
        return f"Hold back the pieces gauged at counter {contain.to_counter:,}"
    made = f"{contain.pieces:,} pieces" if contain.pieces > 1 else "1 piece"
    return (
        f"Hold back the {made} after counter {contain.from_counter:,} up to and with {contain.to_counter:,}"
    )


def _run(verdict: Verdict) -> str:
    when = "as planned" if verdict.next_check is None else verdict.next_check.says
    when = "as planned" if when.endswith("as planned") else when
    if any(each.cause == "over_adjustment" for each in verdict.explained):
        return f"Run on. Leave the slide where it is until this page asks for a move. Next check {when}."
    return f"Run on. Next check {when}."


def _stops(verdict: Verdict) -> bool:
    """Whether something points at the dies: no further piece, not even for confirmation."""
    return verdict.reaction is not None and verdict.reaction.first == "stop"


def _watch(verdict: Verdict, plan: Plan, kinds: set[str]) -> str:
    signals = verdict.signals
    if _stops(verdict):
        return _stop_and_gauge(verdict)
    if any(each.says.startswith("the slide was logged") for each in signals):
        return "Look at the slide's panel and log the setting again: what was logged last is hard to believe."
    if any(each.says.startswith("the counter went") for each in signals):
        return (
            "Read the counter again: it is hard to believe. A slip: strike the check out and type it again."
        )
    if "suspect_entry" in kinds:
        return "Gauge the same piece again and compare with what was typed."
    if kinds == {"travel_used"}:
        return _infeed(verdict)
    by_cause = next((said for said in map(_by_cause, signals) if said), "")
    if by_cause:
        return by_cause
    if "isolated" in kinds:
        return "Gauge the odd piece again, cleaned; then two to four fresh pieces."
    return f"Gauge the same piece again, then set the gauge on its master. {_before_a_move(signals[0], plan)}"


def _stop_and_gauge(verdict: Verdict) -> str:
    """What tells of the dies so far is a gauge, and a gauge that lost its zero shows a step too."""
    says = "Set the gauge on its master, and gauge the pieces at hand again"
    if verdict.reaction is not None and verdict.reaction.pattern == PATTERNS["jumped"].says:
        says = (
            "Look at every flank of the pieces at hand for a mark. No mark: set the gauge on its master, and gauge "
            "them again"
        )
    return f"Stop, no further piece. {says}. Still so: have the dies looked at."


def _by_cause(signal: Signal) -> str:
    """What to do where the likeliest cause says it; "" where it does not."""
    cause = max(signal.explanations, key=lambda each: each.weight, default=None)
    if cause is None:
        return ""
    if cause.cause == "warm_up":
        return "Run the warm-up pieces, then make a first-off again. Leave the slide until the size stands."
    if cause.cause == "setting":
        logged = cause.says.partition("; since then")[0]
        logged = logged.partition(" with ")[2] or logged
        return f"Compare the setting with the set-up sheet: {logged}. Then make a first-off again."
    if signal.kind == "spread":
        return "Gauge one piece five times: is it the gauge? Then compare dwell and clamping with the set-up sheet."
    return ""


def _infeed(verdict: Verdict) -> str:
    if _no_infeed_left(verdict):
        return "Run on only until the next slide move is due, then change the dies: the infeed is used up."
    return "Run on, and book the die change: the infeed is nearly used up."


def _no_infeed_left(verdict: Verdict) -> bool:
    life = verdict.die_life
    used, travel = (None, None) if life is None else (life.correction_used_mm, life.correction_travel_mm)
    return used is not None and travel is not None and float(used) >= travel


def _before_a_move(signal: Signal, plan: Plan) -> str:
    """What to look at before anything is touched: for a size that the slide does not set, what sets it."""
    of = next((each for each in plan.gauged if each.name == signal.characteristic), None)
    what = None if of is None or of.is_set_by_slide else SETTINGS.get(of.set_by)
    if what is not None:
        return f"Still so: compare {what} with the set-up sheet."
    if of is not None and of.is_set_by_slide:
        return f"Leave the slide until it is clear what moved {shop_name(signal.characteristic)}."
    return "Still so: compare every setting with the set-up sheet."


def _hold(verdict: Verdict, plan: Plan, kinds: set[str]) -> str:
    held = held_back(verdict.contain) if verdict.contain is not None else ""
    if _stops(verdict):
        return f"Stop, no further piece. {held}. Have the dies looked at before anything else."
    if "suspect_entry" in kinds:
        return f"Gauge the same piece again before anything is decided. Until then: {_lower_first(held)}."
    says = f"Stop. {held}. {_confirm(verdict)}"
    if verdict.correction is not None:
        machine = plan.machine(verdict.machine)
        says += f" Once confirmed, move the slide {move_sentence(verdict.correction, machine, plan)}."
    elif "travel_used" in kinds and _no_infeed_left(verdict):
        says += " Once confirmed, change the dies: the infeed is used up."
    return says


def _confirm(verdict: Verdict) -> str:
    """How what holds the pieces is confirmed; without a piece out there is none to gauge again."""
    out = [each.says for each in verdict.signals if each.kind == "out_of_tolerance"]
    if out and all(says.startswith(EXPECTED_OUT) for says in out):
        return "Set the gauge on its master, then gauge two to four fresh pieces."
    return "Gauge the same piece again, then set the gauge on its master."


def _plain(number: Decimal) -> str:
    return f"{number:f}".rstrip("0").rstrip(".") if "." in f"{number:f}" else f"{number:f}"


def _lower_first(text: str) -> str:
    return text[:1].lower() + text[1:]
