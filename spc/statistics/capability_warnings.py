"""What speaks against believing the indices of a characteristic, most important first."""

from spc.statistics.capability import Capability
from spc.statistics.choose_model import ModelChoice
from spc.statistics.distribution_words import distribution_words
from spc.statistics.goodness_of_fit import GoodnessOfFit
from spc.statistics.order_seen import OrderSeen
from spc.statistics.percentile_indices import PercentileIndices
from spc.statistics.requirement import few_pieces
from spc.statistics.subgroups import SubgroupSummaries
from spc.statistics.time_model import TimeModel

__all__ = ["capability_warnings"]


def capability_warnings(
    summaries: SubgroupSummaries,
    plain: Capability | None,
    percentiles: PercentileIndices,
    fit: GoodnessOfFit | None,
    choice: ModelChoice | None,
    order: OrderSeen | None,
    over_time: TimeModel | None,
) -> tuple[str, ...]:
    """Say what a signer of indices must know first, for `model_capability`; empty where nothing speaks against them.

    Parameters
    ----------
    summaries : SubgroupSummaries
        The checks.
    plain : Capability or None
        Indices of the normal model; None for every other model.
    percentiles : PercentileIndices
        Indices from the model's quantiles.
    fit, choice : GoodnessOfFit or None, ModelChoice or None
        How well the model describes the pieces, and why it was chosen; no choice where it was asked for.
    order, over_time : OrderSeen or None, TimeModel or None
        What the checks show in the order of time.

    Returns
    -------
    tuple of str
        Sentences, most important first.
    """
    said = [
        over_time.reason if over_time is not None and over_time.words == "performance" else "",
        order.says if order is not None else "",
        choice.why if choice is not None and choice.doubtful else "",
        _misfit(fit) if choice is None else "",
        plain.warning if plain is not None else percentiles.warning,
        few_pieces(summaries.pieces, len(summaries.sizes)),
    ]
    return tuple(each for each in said if each)


def _misfit(fit: GoodnessOfFit | None) -> str:
    if fit is None or fit.p is None or fit.p >= 0.05:
        return ""
    p = f"p = {fit.p:.2g}" if fit.p >= 1e-4 else "p under 0.0001"
    return (
        f"The {distribution_words(fit.model)} model is doubtful ({p} for {fit.n} pieces): do not read fallout far out "
        "from it."
    )
