"""What a die set leaves behind for the forecasts of the next: where it stood at each stage of its way."""

import math
from bisect import bisect_right
from dataclasses import dataclass

from spc.shop.quickly_made import quickly_made
from spc.wear.way import Way

__all__ = ["STAGES", "Opinions", "PastWay", "StagePoint", "note_stage", "opinions", "past_way"]

STAGES = tuple(round(0.05 * i, 2) for i in range(20))
"""Shares of the way at which a set is remembered."""
_LEAST_SHARE = 0.6
"""Share of the way from which the rest may be drawn out straight; below it a set says only how long at least."""
_FLOOR_SD_UM = 0.3


@quickly_made
@dataclass(frozen=True, slots=True)
class StagePoint:
    """A set when it first had done a share of its way.

    Attributes
    ----------
    stage : int
        Place in `STAGES`.
    age_pieces : int
    by_rate, by_pace : float
        Pieces left as the rate then, and as the mean pace until then, would have it.
    unsure : float
        Pieces that twice the doubt of the level amounts to.
    """

    stage: int
    age_pieces: int
    by_rate: float
    by_pace: float
    unsure: float


@dataclass(frozen=True, slots=True)
class PastWay:
    """One characteristic's way on a set that came off.

    Attributes
    ----------
    life_pieces : float
        Age at its end: where it came, else where it would have come.
    is_known : bool
        Whether that end was reached or near enough to be drawn out.
    points : tuple of StagePoint
        By rising stage.
    """

    life_pieces: float
    is_known: bool
    points: tuple[StagePoint, ...]


@quickly_made
@dataclass(frozen=True, slots=True)
class Opinions:
    """What can be said of the pieces left without any other set.

    Attributes
    ----------
    by_rate, by_pace : float
        Pieces left at the rate now, and at the mean pace so far; may be a little below 0.
    unsure : float
        Pieces that twice the doubt of the level amounts to, above 0; less where the end is far beyond that doubt.
    """

    by_rate: float
    by_pace: float
    unsure: float


def opinions(way: Way) -> Opinions:
    """Draw the way out by the rate now and by the pace so far, kept from absurd by how sure they are.

    Parameters
    ----------
    way : Way
        Towards one end, µm and pieces.

    Returns
    -------
    Opinions
        Pieces.

    Notes
    -----
    With left = length − done (µm), δ = its standard deviation, 0.3 µm at least,

        r₁ = 1,000·left/max(rate, 0.3·sd of the rate, 0.001),      q = 2,000·δ/(the same)·(2δ/(left + 2δ))²,
        r₂ = left·age/max(done, δ/2, length/50).

    q is what twice the doubt of the level amounts to, near the end; far from it, it fades, so that the logarithm of
    R + q is one of the pieces left R alone.

    Examples
    --------
    >>> said = opinions(Way("over_pin", "travel", 50.0, 10.0, 1.0, 2.0, 0.2, 6_000))
    >>> said.by_rate, said.by_pace, round(said.unsure, 2)
    (20000.0, 24000.0, 2.27)
    """
    rate = max(way.rate_um_per_1000, 0.3 * way.rate_sd_um_per_1000, 1e-3)
    sd = max(way.left_sd_um, _FLOOR_SD_UM)
    done = max(way.done_um, 0.5 * sd, 0.02 * way.length_um)
    near = 2.0 * sd / (max(way.left_um, 0.0) + 2.0 * sd)
    return Opinions(
        by_rate=1000.0 * way.left_um / rate,
        by_pace=way.left_um * max(way.age_pieces, 1) / done,
        unsure=2000.0 * sd / rate * near**2,
    )


def note_stage(points: tuple[StagePoint, ...], way: Way) -> tuple[StagePoint, ...]:
    """Remember the set where a check shows it at a stage for the first time.

    Parameters
    ----------
    points : tuple of StagePoint
        Of this set so far, by rising stage.
    way : Way
        As the check leaves it.

    Returns
    -------
    tuple of StagePoint
        With one point more where the share done has reached a further twentieth; its pieces to a tenth.
    """
    reached = bisect_right(STAGES, way.share) - 1
    if reached < 0 or (points and points[-1].stage >= reached):
        return points
    now = opinions(way)
    point = StagePoint(
        reached, way.age_pieces, round(now.by_rate, 1), round(now.by_pace, 1), round(now.unsure, 1)
    )
    return (*points, point)


def past_way(way: Way, points: tuple[StagePoint, ...], ended_at: float | None) -> PastWay:
    """Close a way when its set comes off.

    Parameters
    ----------
    way : Way
        As it stood at the last check.
    points : tuple of StagePoint
        From `note_stage`.
    ended_at : float or None
        Age at its end where this characteristic took the set off as worn; None where something else did.

    Notes
    -----
    Where the end did not come but at least six tenths of the way were done, the rest is drawn out at the last
    rate. A shorter way says how long it would have lasted only roughly: its end counts for how long sets
    last, never for how forecasts came true. A point noted after the end is dropped: no set that is still on is there.
    """
    if ended_at is not None:
        return PastWay(ended_at, True, tuple(each for each in points if each.age_pieces <= ended_at))
    if way.share >= _LEAST_SHARE:
        return PastWay(way.age_pieces + max(opinions(way).by_rate, 0.0), True, points)
    rough = way.age_pieces / max(way.share, 0.2)
    return PastWay(rough if math.isfinite(rough) else float(way.age_pieces), False, points)
