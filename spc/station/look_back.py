"""Keeping what a check showed, for looking back later: the last levels, and how levels move by themselves."""

from spc.shop import Characteristic
from spc.shop.changed import changed
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.said import clock
from spc.station.size_memory import BatchStep, SizeMemory
from spc.station.state import News
from spc.wear import KEPT_LEVELS, Level, Noises, Seen, WearBelief, gain_of, learn_moves
from spc.wear.belief import RATE

__all__ = ["learned_moves", "with_level"]

_BEFORE_BATCH, _INTO_BATCH = 8, 12
"""Checks before and after a change of bars that tell how far it moved the level."""


def with_level(
    context: CheckContext, characteristic: Characteristic, belief: WearBelief | None, gauged: Gauged
) -> SizeMemory:
    """Return the memory with this check as its last level; the belief is that before the check."""
    memory = context.memory(characteristic)
    if belief is None or context.age is None:
        return memory
    news = _weightiest(context, characteristic, gauged)
    level = Level(
        age_pieces=context.age,
        level_um=gauged.mean_um + gain_of(belief) * context.approach_um - gauged.cold_um,
        noise_var_um2=gauged.noise_um2,
        rate_um_per_1000=belief.mean[RATE],
        rate_sd_um_per_1000=max(belief.var(RATE), 0.0) ** 0.5,
        batch=context.die_set.batches + int(context.is_new_batch),
        news="" if news is None else news.kind,
        news_um=0.0 if news is None else news.amount_um,
        news_says="" if news is None else f"{news.text}, {clock(context, news.time)}",
        cold=gauged.cold,
        approach_um=context.approach_um,
    )
    step = _batch_step(memory, level)
    return changed(memory, levels=(*memory.levels, level)[-KEPT_LEVELS:], batch_step=step)


def _batch_step(memory: SizeMemory, level: Level) -> BatchStep | None:
    """Compare the first checks of a bar batch with the last ones before it; later ones add nothing but wander."""
    step = memory.batch_step
    if memory.levels and memory.levels[-1].batch != level.batch:
        last = memory.levels[-1]
        before = [each for each in memory.levels[-_BEFORE_BATCH:] if each.batch == last.batch]
        carried = [
            each.level_um + level.rate_um_per_1000 * (last.age_pieces - each.age_pieces) / 1000.0
            for each in before
        ]
        step = BatchStep(sum(carried) / len(carried), last.age_pieces, 0.0, 0)
    if step is None or step.checks >= _INTO_BATCH:
        return step
    grown_um = level.rate_um_per_1000 * (level.age_pieces - step.base_age_pieces) / 1000.0
    beyond_um = level.level_um - step.base_um - grown_um
    checks = step.checks + 1
    return changed(step, step_um=step.step_um + (beyond_um - step.step_um) / checks, checks=checks)


def _weightiest(context: CheckContext, characteristic: Characteristic, gauged: Gauged) -> News | None:
    """The newest thing logged since the last check; a gauge that was hardly off stands back behind others."""
    told = [each for each in context.news_about(characteristic) if each.kind not in ("stop", "note")]
    told.sort(key=lambda each: each.kind != "gauge_zero" or each.amount_um**2 > 4.0 * gauged.noise_um2)
    return told[-1] if told else None


def learned_moves(
    context: CheckContext, characteristic: Characteristic, memory: SizeMemory, gauged: Gauged
) -> SizeMemory:
    """Let the newest level tell how far levels move by themselves."""
    prior, level = context.prior(characteristic), memory.levels[-1]
    expected = Noises(prior.check_sd_um**2, prior.wander_sd_um**2, prior.batch_sd_um**2)
    seen = Seen(
        level.age_pieces, level.level_um, level.rate_um_per_1000, gauged.white_um2, context.is_new_batch
    )
    moves, recent = learn_moves(memory.moves, memory.recent, seen, prior.wander_pieces, expected)
    return changed(memory, moves=moves, recent=recent)
