"""What a die set that came off leaves behind: how long it lived, how it grew, and what its checks taught."""

from dataclasses import dataclass

from spc.wear.gain import GainFact
from spc.wear.noises import LevelMoves
from spc.wear.stages import PastWay

__all__ = ["FinishedSet"]


@dataclass(frozen=True, slots=True)
class FinishedSet:
    """One die set of the part whose life ended or was cut short.

    Attributes
    ----------
    die_set : str
    age_pieces : int
        Age when it came off.
    ended : bool
        Whether it came off because its life was over (`worn`, `chipped`); else its life is only known
        to be longer than `age_pieces`.
    reason : str
        The removal's word.
    machine : str
        Where it came off.
    rates : tuple of (characteristic, µm per 1,000 pieces)
        Mean growth over its life, as believed at the end.
    gains : tuple of GainFact
        What its slide moves said of the gain.
    moves : tuple of (characteristic, LevelMoves)
        How its checks differed from each other.
    ways : tuple of (characteristic, PastWay)
        Where each of its possible ends stood at each stage.
    """

    die_set: str
    age_pieces: int
    ended: bool
    reason: str
    machine: str = ""
    rates: tuple[tuple[str, float], ...] = ()
    gains: tuple[GainFact, ...] = ()
    moves: tuple[tuple[str, LevelMoves], ...] = ()
    ways: tuple[tuple[str, PastWay], ...] = ()
