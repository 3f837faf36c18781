"""Keeping what a check showed, for looking back later: the last levels, and how levels move by themselves."""

from spc.shop import Characteristic
from spc.shop.changed import changed
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.size_memory import SizeMemory
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
    news = next(
        (each.kind for each in reversed(context.news_about(characteristic)) if each.kind != "stop"), ""
    )
    level = Level(
        age_pieces=context.age,
        level_um=gauged.mean_um + belief.mean[GAIN] * context.approach_um - gauged.cold_um,
        noise_var_um2=gauged.noise_um2,
        rate_um_per_1000=belief.mean[RATE],
        rate_sd_um_per_1000=max(belief.var(RATE), 0.0) ** 0.5,
        batch=context.die_set.batches + int(context.is_new_batch),
        news=news,
    )
    return changed(memory, levels=(*memory.levels, level)[-KEPT_LEVELS:])


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
