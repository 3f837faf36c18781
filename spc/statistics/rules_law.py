"""Run length of any set of run rules, trend and alternation included, for a step and for a drift."""

from collections.abc import Iterator, Sequence
from itertools import count

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr

from spc.errors import Refused
from spc.statistics.ordered_chain import ordered_survival
from spc.statistics.rule_sets import RunRule, longest_window
from spc.statistics.rules_chain import zone_chain
from spc.statistics.run_length_law import RunLengthLaw, check_change, law_of_survival

__all__ = ["rules_law"]

Floats = npt.NDArray[np.float64]


def rules_law(rules: Sequence[RunRule], shift_sigma: float = 0.0, drift_sigma: float = 0.0) -> RunLengthLaw:
    """Distribution of the checks until any of these rules speaks, for whoever chooses a set.

    Parameters
    ----------
    rules : sequence of RunRule
        Any mixture, at least one.
    shift_sigma : float
        Shift of the mean from the first point on, in standard deviations of the plotted point.
    drift_sigma : float
        Move of the mean from point to point; point t lies shift + t · drift off centre.

    Returns
    -------
    RunLengthLaw
        Independent normal points with known centre and sigma.

    Raises
    ------
    Refused
        No rule, or a change that is not finite.

    Notes
    -----
    Rules on zones remember finitely many things: their chain is exact. Trend and alternating rules also
    remember the last value, a continuum: its density is carried as a polynomial inside each zone (see
    `ordered_chain`). The stated relative error of 1e-6 is far above the change from 6 to 12 nodes a zone (2e-9);
    with a drift it is 2e-4, as trend rules without any limit lose digits at the ends of the line.

    References
    ----------
    Champ & Woodall, Technometrics 29 (1987) 393-399: 370.40, 225.44, 91.75 in control (from memory); the
    route for trends is our own, checked by simulation.

    Examples
    --------
    >>> from spc.statistics.rule_sets import RULE_SETS
    >>> round(rules_law(RULE_SETS["we1956"]).mean_points, 2)
    91.75
    >>> round(rules_law(RULE_SETS["iso7870"]).mean_points, 1)
    93.4
    """
    check_change(shift_sigma, drift_sigma)
    chosen = tuple(rules)
    if not chosen:
        raise Refused.one("a run length wants at least one rule", value="no rule", allowed="any run rules")
    ordered = any(rule.pattern in ("trend", "alternating") for rule in chosen)
    survival = (ordered_survival if ordered else _zone_survival)(chosen, shift_sigma, drift_sigma)
    return law_of_survival(
        survival,
        shift_sigma=shift_sigma,
        drift_sigma=drift_sigma,
        method="chain with the last value's density, 6 nodes a zone" if ordered else "finite chain, exact",
        relative_error=1e-9 if not ordered else 2e-4 if drift_sigma else 1e-6,
        memory_points=longest_window(chosen),
    )


def _zone_survival(rules: tuple[RunRule, ...], shift: float, drift: float) -> Iterator[float]:
    from scipy.sparse import csr_array

    chain = zone_chain(rules)
    sources, cells = np.nonzero(chain.after >= 0)
    targets = chain.after[sources, cells]
    share = np.zeros(len(chain.after))
    share[0] = 1.0
    moves = None
    for point in count(1):
        if moves is None or drift:
            chances = _cell_chances(chain.edges, shift + point * drift)
            moves = csr_array((chances[cells], (targets, sources)), shape=(len(share), len(share)))
        share = np.asarray(moves @ share)
        yield float(share.sum())


def _cell_chances(edges: tuple[float, ...], mean: float) -> Floats:
    chances: Floats = np.diff(ndtr(np.array([-np.inf, *edges, np.inf]) - mean))
    return chances
