"""What a plan promises: how often it calls for nothing, and how soon it finds a change."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

from spc.errors import Refused
from spc.statistics.rule_sets import BEYOND_LIMITS, RunRule
from spc.statistics.rules_law import rules_law
from spc.statistics.run_length_law import RunLengthLaw

__all__ = ["PlanPromise", "plan_promise", "promise_in_words"]


@dataclass(frozen=True, slots=True)
class PlanPromise:
    """False alarms and waiting time of a plan, with the sentence that says them.

    Attributes
    ----------
    n : int
        Pieces a check.
    sigma_um, step_um, drift_um_per_check : float
        Spread of one piece and the changes asked about.
    in_control, step, drift : RunLengthLaw
        Checks up to the first signal: with nothing wrong, after a lasting step, in a steady drift.
    rules : tuple of str
        Keys of the rules.
    says : str
        For the page.
    """

    n: int
    sigma_um: float
    step_um: float
    drift_um_per_check: float
    in_control: RunLengthLaw
    step: RunLengthLaw
    drift: RunLengthLaw | None
    rules: tuple[str, ...]
    says: str


def plan_promise(
    n: int,
    sigma_um: float,
    step_um: float = 5.0,
    *,
    drift_um_per_check: float = 0.0,
    rules: Sequence[RunRule] = (BEYOND_LIMITS,),
    level: float = 0.95,
) -> PlanPromise:
    """Say what n pieces a check and these rules can find, for whoever writes a plan.

    Parameters
    ----------
    n : int
        Pieces a check, 1 or more.
    sigma_um : float
        Standard deviation of one piece within a check, above 0, in µm.
    step_um : float
        A lasting step of the mean, not 0, in µm.
    drift_um_per_check : float
        A steady move of the mean from check to check in µm; 0 leaves the drift out.
    rules : sequence of RunRule
        The limits and any run rules.
    level : float
        Share of changes found within the number of checks named: 0.5, 0.75 or 0.95.

    Returns
    -------
    PlanPromise
        Checks are independent, limits are known and the change begins between two checks.

    Raises
    ------
    Refused
        No pieces, no spread, no step, or another level.

    Notes
    -----
    Run lengths as `rules_law` gives them; the sources stand there.

    Examples
    --------
    >>> print(plan_promise(5, 2.5, 5.0).says)  # doctest: +NORMALIZE_WHITESPACE
    About one false alarm in 370 checks; a step of 5 µm is found after 1.1 checks on average
    (95 of 100 within 2).
    """
    if n < 1:
        raise Refused.one("a check wants at least one piece", value=str(n), allowed="1 or more")
    if not (isfinite(sigma_um) and sigma_um > 0.0):
        raise Refused.one(
            "the spread of one piece must be above 0", value=str(sigma_um), column="sigma", allowed="above 0"
        )
    if not isfinite(step_um) or step_um == 0.0:
        raise Refused.one("a step of nothing cannot be found", value=str(step_um), allowed="a size in µm")
    sigma_point = sigma_um / sqrt(n)
    in_control = rules_law(rules)
    step = rules_law(rules, step_um / sigma_point)
    drift = rules_law(rules, 0.0, drift_um_per_check / sigma_point) if drift_um_per_check else None
    return PlanPromise(
        n=n,
        sigma_um=sigma_um,
        step_um=step_um,
        drift_um_per_check=drift_um_per_check,
        in_control=in_control,
        step=step,
        drift=drift,
        rules=tuple(rule.key for rule in rules),
        says=promise_in_words(in_control, step, step_um, drift, drift_um_per_check, level),
    )


def promise_in_words(
    in_control: RunLengthLaw,
    step: RunLengthLaw,
    step_um: float,
    drift: RunLengthLaw | None = None,
    drift_um_per_check: float = 0.0,
    level: float = 0.95,
) -> str:
    """Say the promise of any chart, EWMA and CUSUM too, in one sentence.

    Parameters
    ----------
    in_control, step, drift : RunLengthLaw
        With nothing wrong, after a step, in a drift (None leaves it out).
    step_um, drift_um_per_check : float
        The sizes to name, µm.
    level : float
        0.5, 0.75 or 0.95.

    Returns
    -------
    str
        A sentence.
    """
    share = f"{100 * level:g} of 100"
    said = (
        f"About one false alarm in {_round(in_control.mean_points)} checks; a step of {abs(step_um):g} µm is "
        f"found after {_checks(step.mean_points)} on average ({share} within {step.within(level)})"
    )
    if drift is not None:
        said += (
            f"; a drift of {abs(drift_um_per_check):g} µm per check after {_checks(drift.mean_points)} "
            f"({share} within {drift.within(level)})"
        )
    return said + "."


def _round(points: float) -> str:
    """Three digits at most: nobody knows sigma better."""
    if points < 1000.0:
        return f"{points:.0f}"
    return f"{float(f'{points:.2g}'):,.0f}"


def _checks(points: float) -> str:
    if points < 10.0:
        text = f"{points:.1f}".removesuffix(".0")
        return f"{text} check" if text == "1" else f"{text} checks"
    return f"{_round(points)} checks"
