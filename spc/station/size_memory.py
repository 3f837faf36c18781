"""What a mounted die set remembers of one characteristic besides the belief: its last levels, moves and stages."""

from dataclasses import dataclass, field

from spc.shop.quickly_made import quickly_made
from spc.wear import Level, LevelMoves, RecentLevels, StagePoint, Way, WearBelief

__all__ = ["BatchStep", "SizeMemory"]


@quickly_made
@dataclass(frozen=True, slots=True)
class BatchStep:
    """How far the level moved with the present bar batch, as its first checks showed it.

    Attributes
    ----------
    base_um : float
        Level of the checks before the batch, at `base_age_pieces`.
    step_um : float
        Mean of the first checks beyond that, growth taken out.
    checks : int
        How many there are.
    """

    base_um: float
    base_age_pieces: int
    step_um: float
    checks: int


@quickly_made
@dataclass(frozen=True, slots=True)
class SizeMemory:
    """Memory of one characteristic on one die set.

    Attributes
    ----------
    levels : tuple of Level
        The last checks of this mounting, for looking back when something changed.
    moves : LevelMoves
        How checks differed, for what earlier sets teach of the noises.
    recent : RecentLevels
        The last levels within the present bar batch.
    way : Way or None
        How far it had come to its end at the last check; None where it ends nothing.
    stages : tuple of StagePoint
        Where it stood at each stage of its way.
    batch_step : BatchStep or None
        Of the bar batch that runs; None where this mounting has met no other before it.
    stepped_um : float
        What surprises that no event explains have moved the level in this mounting, as far as they were told.
    before_step : WearBelief or None
        What was believed before the last check, where that surprised by `surprise_um` and was told as a step.
    surprise_um : float
    """

    levels: tuple[Level, ...] = ()
    moves: LevelMoves = field(default_factory=LevelMoves)
    recent: RecentLevels = field(default_factory=RecentLevels)
    way: Way | None = None
    stages: tuple[StagePoint, ...] = ()
    batch_step: BatchStep | None = None
    stepped_um: float = 0.0
    before_step: WearBelief | None = None
    surprise_um: float = 0.0
