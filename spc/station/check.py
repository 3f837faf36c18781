"""Judging one check: every characteristic, the look, the die set, and the verdict that comes of it."""

from collections.abc import Sequence

from spc.shop import CheckGauged, DieLife, Plan, Signal, Verdict
from spc.shop.changed import changed
from spc.shop.layouts import VerdictWord
from spc.station.acceptance import acceptance_notices
from spc.station.advice import slide_advice
from spc.station.after_check import state_after
from spc.station.contained import contain, doubt_signals
from spc.station.context import CheckContext, context_of
from spc.station.gauge_off import gauges_found_off
from spc.station.judged import Judged, judge
from spc.station.life import die_life, life_signals, ways_now
from spc.station.next_check import next_check
from spc.station.pieces import entry_doubts, pieces_gauged, visual_finds
from spc.station.reaction import reaction_to
from spc.station.said import signal
from spc.station.state import StreamState
from spc.station.wording import next_action
from spc.wear import WearBelief, forecast_mean, sigma_um

__all__ = ["judge_check"]


def judge_check(state: StreamState, plan: Plan, check: CheckGauged) -> tuple[StreamState, Verdict]:
    """Judge a check and take what it teaches into the state."""
    context = context_of(state, plan, check)
    gauged = pieces_gauged(check, plan.gauged)
    doubts = entry_doubts(check, context.machine, context.counter_doubt, gauged, _expected(context))
    judged = [
        judge(context, each.characteristic, each.values, doubts.get(each.characteristic.name, ""))
        for each in gauged
    ]
    beliefs = _beliefs(context, judged)
    ways = () if context.counter_doubt else ways_now(context, beliefs)
    life = die_life(context, beliefs, ways)
    signals = (
        *(each for one in judged for each in one.signals),
        *_visual_signals(context),
        *doubt_signals(context, judged),
        *life_signals(context, life),
    )
    verdict = _verdict(context, judged, signals, life)
    verdict = changed(verdict, next_check=next_check(context, judged, verdict))
    verdict = changed(verdict, next_action=next_action(verdict, plan))
    return state_after(context, judged, beliefs, verdict, ways), verdict


def _verdict(
    context: CheckContext, judged: Sequence[Judged], signals: tuple[Signal, ...], life: DieLife | None
) -> Verdict:
    slide = slide_advice(context, judged, signals)
    signals, correction = (*signals, *slide.signals), slide.correction
    holds = any(each.kind in ("out_of_tolerance", "visual") for each in signals)
    word: VerdictWord = "run"
    if holds:
        word = "hold"
    elif correction is not None:
        word = "correct"
    elif signals:
        word = "watch"
    check, machine = context.check, context.machine
    held = contain(context, signals, judged) if holds else None
    return Verdict(
        time=check.time,
        zone=context.plan.zone,
        machine=check.machine,
        part=check.part,
        die_set=machine.die_set or None,
        counter=check.counter,
        age=context.age,
        purpose=check.purpose,
        verdict=word,
        signals=signals,
        explained=tuple(each for one in judged for each in one.explained),
        correction=correction,
        contain=held,
        die_life=life,
        subgroups=tuple((each.characteristic.name, each.subgroup) for each in judged),
        no_correction=slide.left_alone,
        notices=(
            *gauges_found_off(context),
            *(acceptance_notices(judged, signals) if correction is None else ()),
        ),
        reaction=reaction_to(context, judged, signals, correction, held),
    )


def _expected(context: CheckContext) -> dict[str, tuple[float, float]]:
    """Size to expect and the spread of one piece around it, where earlier checks said something."""
    expected = {}
    for characteristic in context.plan.gauged:
        chart, belief = context.chart(characteristic), context.belief(characteristic)
        if belief is None or belief.checks < 2 or chart.spread.df < 4:
            continue
        sigma = sigma_um(chart.spread)
        ahead = forecast_mean(belief, context.approach_um, sigma**2)
        unit_um = characteristic.um_per_unit
        expected[characteristic.name] = (
            float(characteristic.aim) + ahead.mean_um / unit_um,
            ahead.sd_um / unit_um,
        )
    return expected


def _visual_signals(context: CheckContext) -> tuple[Signal, ...]:
    found = []
    for characteristic in context.plan.looked_at:
        finds = visual_finds(context.check, characteristic)
        if finds:
            says = ", ".join(f"{answer} on piece {piece}" for piece, answer in finds)
            many = "1 piece" if len(finds) == 1 else f"{len(finds)} pieces"
            look = f"not known before the dies are looked at; found on {many}"
            found.append(signal(context, characteristic.name, "visual", says, ("unknown", 0.5, look)))
    return tuple(found)


def _beliefs(context: CheckContext, judged: Sequence[Judged]) -> dict[str, WearBelief]:
    """Beliefs of the set after this check; what was not gauged now is carried as it was."""
    taught = {
        each.characteristic.name: each.belief
        for each in judged
        if each.belief is not None and not each.subgroup.suspect
    }
    return {**context.die_set.beliefs, **taught}
