"""Keeping what a check showed, for looking back later: the last levels, and how levels move by themselves."""

from spc.shop import Characteristic
from spc.shop.changed import changed
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.said import clock
from spc.station.size_memory import SizeMemory
from spc.station.state import News
from spc.wear import KEPT_LEVELS, Level, Noises, Seen, WearBelief, learn_moves
from spc.wear.belief import GAIN, RATE

__all__ = ["learned_moves", "with_level"]


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
        level_um=gauged.mean_um + belief.mean[GAIN] * context.approach_um - gauged.cold_um,
        noise_var_um2=gauged.noise_um2,
        rate_um_per_1000=belief.mean[RATE],
        rate_sd_um_per_1000=max(belief.var(RATE), 0.0) ** 0.5,
        batch=context.die_set.batches + int(context.is_new_batch),
        news="" if news is None else news.kind,
        news_um=0.0 if news is None else news.amount_um,
        news_says="" if news is None else f"{news.text}, {clock(context, news.time)}",
        cold=gauged.cold,
    )
    return changed(memory, levels=(*memory.levels, level)[-KEPT_LEVELS:])


def _weightiest(context: CheckContext, characteristic: Characteristic, gauged: Gauged) -> News | None:
    """The newest thing logged since the last check; a gauge that was hardly off stands back behind others."""
    told = [each for each in context.news_about(characteristic) if each.kind != "stop"]
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
