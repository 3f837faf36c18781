"""Telling an operator that the slide is being chased: beside a signal where one stands, else as explained."""

from spc.shop import Characteristic, Explained, Explanation, Signal
from spc.shop.changed import changed
from spc.station.context import CheckContext
from spc.station.mean_signals import MeanJudged
from spc.station.size_memory import SizeMemory
from spc.wear import ToAndFro, to_and_fro

__all__ = ["with_over_adjustment"]

_MOVED_BY = ("beyond_limits", "run_rule", "step", "drift", "wear_rate")
"""Signals that moves to and fro may be behind; the pieces of one check share one setting, so no spread is."""
_WEIGHT, _WEIGHT_BESIDE_FORECAST = 0.5, 0.2
"""Weight of over-adjustment beside a signal of fixed limits, and of a forecast, which knows of every move
(common practice, no source)."""


def with_over_adjustment(
    context: CheckContext, characteristic: Characteristic, memory: SizeMemory, means: MeanJudged
) -> MeanJudged:
    """Add what is said of a slide moved to and fro.

    Notes
    -----
    The moves were logged and explain the saw-tooth of the size wholly, so by themselves they raise nothing.
    Where a signal stands, they are one of its causes: the first beside limits that know nothing of the slide, the
    lesser beside a forecast that has the moves taken out and is surprised all the same.
    """
    gain = context.slide_gain(characteristic, context.belief(characteristic))
    found = to_and_fro(memory.levels, gain) if gain else None
    if found is None:
        return means
    says = _says(context, found)
    if not any(each.kind in _MOVED_BY for each in means.signals):
        if not _leads(context, characteristic):
            return means
        explained = Explained(characteristic.name, "over_adjustment", says)
        return changed(means, explained=(*means.explained, explained))
    weight = _WEIGHT if means.tale is None else _WEIGHT_BESIDE_FORECAST
    cause = Explanation("over_adjustment", weight, says)
    signals = tuple(_beside(each, cause) if each.kind in _MOVED_BY else each for each in means.signals)
    return changed(means, signals=signals)


def _leads(context: CheckContext, characteristic: Characteristic) -> bool:
    """Whether this is the first size of the check that the slide sets: one telling is enough."""
    gauged = {each.characteristic for each in context.check.readings}
    names = [each.name for each in context.plan.gauged if each.is_set_by_slide and each.name in gauged]
    return names[:1] == [characteristic.name]


def _beside(signal: Signal, cause: Explanation) -> Signal:
    """The likelier of the causes told so far keeps its place, with the weight that is left."""
    others = [
        changed(each, weight=round(each.weight * (1.0 - cause.weight), 2)) for each in signal.explanations[:1]
    ]
    return changed(signal, explanations=tuple(sorted([cause, *others], key=lambda each: -each.weight)))


def _says(context: CheckContext, found: ToAndFro) -> str:
    of_display = 1000.0 / context.per_mm
    grew = "grew" if found.growth_um >= 0.0 else "came down"
    return (
        f"{found.moves} moves of the slide in {found.checks} checks, {found.sum_um * of_display:.0f} µm in all, "
        f"{abs(found.net_um) * of_display:.0f} µm net; by the dies the size {grew} {abs(found.growth_um):.1f} µm"
    )
