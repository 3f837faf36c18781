"""The way to an end: how far a characteristic has come towards what takes the die set off, and how fast."""

import math
from dataclasses import dataclass

from spc.errors import Refused
from spc.shop.quickly_made import quickly_made
from spc.wear.belief import GAIN, OFFSET, RATE, SIZE, WEAR, WearBelief

__all__ = ["Way", "size_way", "travel_way", "wear_line_um"]


@quickly_made
@dataclass(frozen=True, slots=True)
class Way:
    """How far one characteristic has come towards its end.

    Attributes
    ----------
    characteristic : str
    limit : {"travel", "upper", "lower"}
    length_um : float
        From a new die at the reference setting to the end, µm.
    done_um : float
        Of that, what wear has done, µm.
    left_sd_um : float
        How sure the rest is, µm.
    rate_um_per_1000, rate_sd_um_per_1000 : float
        Growth towards the end, µm per 1,000 pieces.
    age_pieces : int
    """

    characteristic: str
    limit: str
    length_um: float
    done_um: float
    left_sd_um: float
    rate_um_per_1000: float
    rate_sd_um_per_1000: float
    age_pieces: int

    @property
    def left_um(self) -> float:
        """What is still to go, below 0 past the end."""
        return self.length_um - self.done_um

    @property
    def share(self) -> float:
        """Share of the way done; 1 at the end."""
        return self.done_um / self.length_um if self.length_um > 0.0 else 1.0


def travel_way(belief: WearBelief, name: str, travel_um: float) -> Way:
    """Way to the count where holding the size at its target needs more than the allowed slide travel.

    Parameters
    ----------
    belief : WearBelief
        As it stands after the last check, carried on to the present age.
    name : str
        The characteristic.
    travel_um : float
        Allowed approach beyond the reference setting, µm, above 0.

    Returns
    -------
    Way
        With limit "travel".

    Raises
    ------
    Refused
        Where the travel is not above 0, or is not a number.

    Notes
    -----
    With a reading y = reference + wear − gain·approach, holding y = 0 needs approach = (reference + wear)/gain,
    whether or not anybody has moved the slide. The end is where that equals the travel: reference + wear =
    gain·travel. Everything is taken times the sign of the gain, so that done grows with wear.

    Examples
    --------
    >>> from spc.wear import WearPrior, advance, fresh_belief
    >>> prior = WearPrior(0.5, 1.0, 0.05, 0.0, 0.8, 0.0, 0.0, 2500.0, 0.0)
    >>> way = travel_way(advance(fresh_belief(prior), prior, 12_000), "over_pin", 60.0)
    >>> way.length_um, way.done_um, way.share
    (48.0, 12.0, 0.25)
    """
    if not 0.0 < travel_um < math.inf:
        raise Refused.one(
            "the travel is not above 0", value=str(travel_um), column=name, allowed="above 0 µm"
        )
    sign = 1.0 if belief.mean[GAIN] >= 0.0 else -1.0
    offset = 1.0 if belief.first_offset_um is None else 0.0
    row = (offset, 1.0, 0.0, -travel_um, 0.0, 0.0)
    length = sign * (belief.mean[GAIN] * travel_um - belief.reference_um)
    return _way(belief, name, "travel", sign, length, row)


def size_way(
    belief: WearBelief, name: str, low_um: float | None, high_um: float | None, now_um: float
) -> Way | None:
    """Way to the count where the mean of a characteristic that wears with the die reaches a limit.

    Parameters
    ----------
    belief, name
        As for `travel_way`.
    low_um, high_um : float or None
        Limits minus target, µm; None where there is none.
    now_um : float
        What the slide, as it stands now in this mounting, takes off the size: gain · approach, µm; 0 where the
        slide does not set it.

    Returns
    -------
    Way or None
        Towards the limit on the side of growth as now believed; None where that side has none.

    Raises
    ------
    Refused
        Where a limit or `now_um` is not a number.

    Notes
    -----
    The mean is offset + wear − now_um with the offset of the present mounting; the passing shift and the
    present bar batch are left out, and `now_um` is taken as known.
    """
    given = [each for each in (low_um, high_um, now_um) if each is not None]
    if not all(map(math.isfinite, given)):
        raise Refused.one("a limit or the present size is not a number", value=str(given), column=name)
    grows = belief.mean[RATE] >= 0.0
    limit_um = high_um if grows else low_um
    if limit_um is None:
        return None
    sign = 1.0 if grows else -1.0
    length = sign * (limit_um - belief.mean[OFFSET] + now_um)
    return _way(belief, name, "upper" if grows else "lower", sign, length, (1.0, 1.0, 0.0, 0.0, 0.0, 0.0))


def wear_line_um(belief: WearBelief, *, is_set_by_slide: bool) -> tuple[float, float]:
    """Return what the dies alone have made of the size, minus target, and how sure that is, µm.

    Parameters
    ----------
    belief : WearBelief
    is_set_by_slide : bool
        Then the slide moves are taken out and re-mountings count from the first slide zero; else the size is the one
        of the present mounting.

    Notes
    -----
    Reference and wear together, or offset and wear; the passing shift and the bar batch are left out.
    """
    first = belief.first_offset_um is None or not is_set_by_slide
    start = belief.mean[OFFSET] if first else belief.reference_um
    variance = belief.var(WEAR)
    if first:
        variance += belief.var(OFFSET) + 2.0 * belief.cov[SIZE * OFFSET + WEAR]
    return start + belief.mean[WEAR], math.sqrt(max(variance, 0.0))


def _way(
    belief: WearBelief, name: str, limit: str, sign: float, length_um: float, row: tuple[float, ...]
) -> Way:
    """`row`: how the rest of the way depends on the state."""
    cov = belief.cov
    places = [i for i in range(SIZE) if row[i]]
    variance = sum([row[i] * row[j] * cov[SIZE * i + j] for i in places for j in places])
    return Way(
        characteristic=name,
        limit=limit,
        length_um=length_um,
        done_um=sign * belief.mean[WEAR],
        left_sd_um=math.sqrt(max(variance, 0.0)),
        rate_um_per_1000=sign * belief.mean[RATE],
        rate_sd_um_per_1000=math.sqrt(max(belief.var(RATE), 0.0)),
        age_pieces=belief.age_pieces,
    )
