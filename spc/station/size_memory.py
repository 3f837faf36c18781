"""What a mounted die set remembers of one characteristic besides the belief: its last levels, moves and stages."""

from dataclasses import dataclass, field

from spc.wear import Level, LevelMoves, RecentLevels, StagePoint, Way

__all__ = ["SizeMemory"]


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
    """

    levels: tuple[Level, ...] = ()
    moves: LevelMoves = field(default_factory=LevelMoves)
    recent: RecentLevels = field(default_factory=RecentLevels)
    way: Way | None = None
    stages: tuple[StagePoint, ...] = ()
