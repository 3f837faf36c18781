"""A distribution and a model over time in short sentences, without the words of a test."""

from spc.reports.words import begun, chance_words, fallout_words, one_or_many, share_words
from spc.shop import Characteristic
from spc.statistics import Estimate, ModelCapability, NormalityTest, OrderSeen
from spc.statistics.choose_model import model_of_kind

__all__ = ["distribution_words", "model_name", "normality_words", "outside_words", "over_time_words"]

_NAMES = {
    "normal": "normal", "half_normal": "half-normal", "folded_normal": "folded normal", "rayleigh": "Rayleigh",
    "weibull": "Weibull", "lognormal": "lognormal", "empirical": "the pieces themselves",
}  # fmt: skip
_KINDS = {
    "runout": "run-out", "out_of_round": "out-of-round", "over_pin_diameter": "a size over pins",
    "over_ball_diameter": "a size over balls", "over_wire_diameter": "a size over wires", "diameter": "a diameter",
}  # fmt: skip
_OVER_TIME = {
    "A1": "Level and spread stood still.",
    "A2": "Level and spread stood still.",
    "B": "The level stood still, the spread changed.",
    "C1": "The level wandered without order, the spread stood still.",
    "C2": "The level wandered without order, the spread stood still.",
    "C3": "The level moved with the wear or in another order, the spread stood still.",
    "C4": "The level moved with the wear or in another order, and jumped besides; the spread stood still.",
    "D": "Level and spread both changed.",
}
_C4_PIECES = "The level moved with the wear or in another order, and pieces of one check are not normal."
_DOUBT = 0.05
_COARSE = 25
"""Different readings up to which the steps of the gauge alone can spoil a test (own experience, no source)."""


def model_name(word: str) -> str:
    """Return a distribution as people write it."""
    return _NAMES.get(word, word.replace("_", " "))


def over_time_words(found: ModelCapability) -> str:
    """Say how level and spread behaved, how that was seen, and what follows; "" where it cannot be told."""
    seen = found.over_time
    if seen is None:
        return "" if found.order is None else _order_words(found.order)
    level = _OVER_TIME[seen.model]
    if seen.model == "C4" and seen.location == "systematic":
        level = _C4_PIECES
    open_shape = (
        seen.model == "A1" and found.plain is None
    )  # residuals that can be normal, of a shape that is not
    told = [f"{level} That is model {'A1 or A2' if open_shape else seen.model} of ISO 22514-2."]
    if found.order is not None and seen.location.startswith("systematic"):
        told.append(_order_words(found.order))
    elif seen.location == "random":
        told.append(
            f"The {seen.subgroups:,} checks differ more than their pieces explain ({chance_words(seen.between.p)})."
        )
    else:
        told.append(f"The {seen.subgroups:,} checks differ no more than their pieces explain.")
    if found.words == "performance":
        told.append("So the indices say what was delivered and promise nothing for the next pieces.")
    return " ".join(told)


def _order_words(order: OrderSeen) -> str:
    if not order.present:
        return f"The {order.n:,} checks show no order in time." if order.n >= 8 else ""
    chance = 1.0 - order.level
    saw = []
    if order.trend.p < chance:
        saw.append("a rise" if order.trend.slope > 0.0 else "a fall")
    if order.lag1.related:
        word = "like" if order.lag1.r > 0.0 else "unlike"
        saw.append(f"neighbours {word} each other (correlation {order.lag1.r:.2f})".replace("-", "−"))
    if order.rises.p < chance:
        saw.append(f"{order.rises.rises:,} steps up against {order.rises.falls:,} down")
    return f"Seen in {order.n:,} checks: {_listed(saw)}."


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def distribution_words(found: ModelCapability, characteristic: Characteristic) -> str:
    """Say which distribution the indices are read from, and whether the pieces fit it."""
    own, name = model_of_kind(characteristic.kind), model_name(found.model.name)
    kind = _KINDS.get(characteristic.kind, characteristic.kind.replace("_", " "))
    usual = f"{begun(name)}, the usual one for {kind}."
    if found.model.name != own:
        usual = f"{begun(name)}: the pieces do not fit {model_name(own)}, the usual one for {kind}."
    if found.model.name == "normal" and normality_words(found):
        return usual
    fit = found.fit
    if fit is None or fit.p is None:
        return f"{usual} There are too few pieces to test it."
    if fit.p >= _DOUBT:
        return f"{usual} {one_or_many(fit.n, 'piece does', 'pieces do')} not speak against it ({chance_words(fit.p)})."
    spoke = f"{one_or_many(fit.n, 'piece speaks', 'pieces speak')} against it ({chance_words(fit.p)})"
    return f"{usual} But {spoke}. {_steps(found)}Take its far ends as a guess.".replace("  ", " ")


def normality_words(found: ModelCapability) -> str:
    """Judge pieces about their check and all pieces together, each for itself; "" where nothing moved in order.

    Where checks drift, all pieces together are not normal even if each moment is: only the first judgement speaks of
    the distribution then.
    """
    order, within, total = found.order, found.within_normality, found.total_normality
    if found.model.name != "normal" or order is None or not order.present:
        return ""
    if within is None or total is None or within.p is None or total.p is None:
        return ""
    both = [_one(within, "Pieces about the mean of their check"), _one(total, "All pieces together")]
    if within.p >= _DOUBT > total.p:
        both.append("The moving level does that, not the pieces.")
    elif within.p < _DOUBT:
        both.append(_steps(found))
    return " ".join(each for each in both if each).strip()


def _one(test: NormalityTest, what: str) -> str:
    p = 1.0 if test.p is None else test.p
    return f"{what} {'can be' if p >= _DOUBT else 'are not'} normal ({chance_words(p)})."


def _steps(found: ModelCapability) -> str:
    """Say that the gauge's steps alone can do it, where they are coarse."""
    different = len(set(found.model.readings.tolist()))
    if different > _COARSE:
        return ""
    return f"The gauge gave only {different} different readings, which alone can do this. "


def outside_words(found: ModelCapability) -> str:
    """Say what share the model expects outside, no finer than so many pieces can tell."""
    ppm = found.percentiles.fallout_ppm if found.honest is None else found.honest.fallout
    told = fallout_words(ppm.estimate, ppm.n, model_name(found.model.name))
    return f"{begun(told)}.{_between(ppm)}"


def _between(ppm: Estimate) -> str:
    """Return the interval where whole pieces per million can be told."""
    if ppm.estimate < 1.0 or not ppm.low < ppm.high:
        return ""
    low = "under 1" if ppm.low < 1.0 else f"{float(f'{ppm.low:.2g}'):,.0f}"
    high = f"{float(f'{ppm.high:.2g}'):,.0f}"
    return f" It lies, {share_words(ppm.level)} sure, between {low} and {high} ppm."
