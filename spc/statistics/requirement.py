"""Whether a required index is shown, not shown, or not to be told from so few pieces."""

from dataclasses import dataclass
from math import ceil, isfinite

from scipy.special import ndtri

from spc.errors import Refused
from spc.statistics.chance_laws import chi_square_above, chi_square_below
from spc.statistics.index_intervals import Estimate, tail_share
from spc.statistics.sound_arguments import want_finite

__all__ = ["NOT_SHOWN", "SHOWN", "TOO_FEW", "Requirement", "few_pieces", "pieces_needed", "requirement"]

SHOWN, NOT_SHOWN, TOO_FEW = "shown", "not shown", "too few pieces to tell"


@dataclass(frozen=True, slots=True)
class Requirement:
    """Answer to a required index.

    Attributes
    ----------
    answer : str
        ``shown``, ``not shown`` or ``too few pieces to tell``.
    required : float
        Least index wanted.
    index : Estimate
        What was found.
    pieces_needed : int or None
        Independent pieces from which this same index would show it; None where no number would.
    n : int
        Pieces behind the answer.
    level : float
        Confidence of the interval; its lower end alone has the greater one-sided confidence.
    method : str
        Against what it was judged.
    says : str
        The answer for a person.
    """

    answer: str
    required: float
    index: Estimate
    pieces_needed: int | None
    n: int
    level: float
    method: str
    says: str


def requirement(index: Estimate, required: float, name: str = "Cpk") -> Requirement:
    """Judge an index with interval against a required one, for the sheet that customer and shop sign.

    Parameters
    ----------
    index : Estimate
        From any method; take the honest one where checks wander.
    required : float
        Least index wanted, above 0.
    name : str
        What the index is called, for the sentence.

    Returns
    -------
    Requirement
        Shown where the lower end reaches it; not shown where the estimate itself stays below; between the two
        the pieces are too few.

    Raises
    ------
    Refused
        A requirement that is not above 0, or an index that is no number.

    Notes
    -----
    The estimate alone never shows anything: half of all processes exactly at the requirement exceed it.

    References
    ----------
    That the lower end answers is common practice, no source.

    Examples
    --------
    >>> from spc.statistics.index_intervals import location_interval
    >>> requirement(location_interval(1.45, n=40), 1.33).answer
    'too few pieces to tell'
    """
    if not (isfinite(required) and required > 0.0):
        raise Refused.one(
            "the required index is not above 0", value=str(required), allowed="for instance 1.33"
        )
    if not isfinite(index.estimate):
        raise Refused.one(
            "the index is no number",
            value=str(index.estimate),
            do="Look for what made it, for instance no spread",
        )
    if index.low >= required:
        answer = SHOWN
    else:
        answer = NOT_SHOWN if index.estimate < required else TOO_FEW
    needed = pieces_needed(index.estimate, required, index.level)
    says = _says(answer, index, required, name, needed)
    method = "lower end of the interval against the requirement"
    return Requirement(answer, required, index, needed, index.n, index.level, method, says)


def pieces_needed(index: float, required: float, confidence: float = 0.95) -> int | None:
    """Fewest independent pieces from which this Cpk would show the required one; None where no number would.

    Parameters
    ----------
    index, required : float
        The estimate and the least that is asked, dimensionless.
    confidence : float
        Two-sided, between 0 and 1; each tail has half of what is left.

    Returns
    -------
    int or None
        Pieces, 2 or more.

    Raises
    ------
    Refused
        An index that is not finite, a confidence out of range.

    Notes
    -----
    Solves Bissell's lower end, index - z sqrt(1/(9 n) + index^2/(2(n-1))), for n.

    Examples
    --------
    >>> pieces_needed(1.5, 1.33)
    166
    """
    z = float(ndtri(1.0 - tail_share(confidence, 2)))
    want_finite(index=index, required=required)
    if index <= required:
        return None
    share = ((index - required) / z) ** 2
    n = max(2, ceil((1.0 / 9.0 + index**2 / 2.0) / share))
    while 1.0 / (9.0 * n) + index**2 / (2.0 * (n - 1)) > share:
        n += 1
    return n


def few_pieces(n: int, checks: int | None = None, confidence: float = 0.95) -> str:
    """Say in plain words how little n pieces can tell about a spread; empty where they are enough.

    Parameters
    ----------
    n : int
        Pieces, 2 or more.
    checks : int, optional
        Checks they came from.
    confidence : float
        Of the spread quoted.

    Returns
    -------
    str
        One or two sentences, or nothing.

    Raises
    ------
    Refused
        Fewer than 2 pieces, a confidence out of range.

    Notes
    -----
    125 pieces in 25 checks are customary before an index is signed, 50 the least (common practice, no source).

    Examples
    --------
    >>> few_pieces(25)[:51]
    '25 pieces know sigma only to within -22 % and +39 %'
    """
    tail = tail_share(confidence, n)
    said = []
    if n < 125:
        low = (float(chi_square_above(tail, n - 1)) / (n - 1)) ** -0.5
        high = (float(chi_square_below(tail, n - 1)) / (n - 1)) ** -0.5
        said.append(
            f"{n} pieces know sigma only to within {100 * (low - 1):.0f} % and +{100 * (high - 1):.0f} %: "
            "125 pieces from 25 checks are customary before an index is signed, 50 the least."
        )
    if checks is not None and checks < 25:
        said.append(
            f"{checks} checks have seen little of shifts, bar batches and wear: gather 25 or more over several days."
        )
    return " ".join(said)


def _says(answer: str, index: Estimate, required: float, name: str, needed: int | None) -> str:
    interval = f"{100 * index.level:g} % interval {index.low:.2f} to {index.high:.2f}, {index.n} pieces"
    found = f"{name} {index.estimate:.2f} ({interval})"
    if answer == SHOWN:
        return f"{name} of at least {required:.2f} is shown: {found}."
    if answer == NOT_SHOWN:
        return f"{name} of at least {required:.2f} is not shown: {found} stays below it; more pieces will not help."
    more = f" About {needed} independent pieces would show it if the index stays." if needed else ""
    return f"Too few pieces to tell whether {name} is at least {required:.2f}: {found}.{more}"
