"""What a review says beside its indices, in short sentences: page and paper say the same."""

from spc.reports.model_words import distribution_words, normality_words, outside_words, over_time_words
from spc.reports.words import index_words, one_or_many, share_words
from spc.station import CharacteristicReview
from spc.statistics import HonestCapability, ModelCapability, few_pieces

__all__ = ["PROBABILITY_CAPTION", "answer_sentence", "capability_facts", "capability_title", "steady_words"]

PROBABILITY_CAPTION = "Each dot is a piece. Where the dots leave the line, do not trust the ppm."


def capability_title(one: CharacteristicReview) -> str:
    """Return the heading over the indices: a process that moved has delivered, one that stood still can hold."""
    moved = one.capability is None or one.capability.words != "capability" or one.without_trend is not None
    return "What the process delivered" if moved else "What the process can hold"


def answer_sentence(one: CharacteristicReview) -> str:
    """Return the plan's demand, its answer and why this index gives it; "" where the plan demands nothing."""
    wanted = one.requirement
    if wanted is None:
        return ""
    demand = f"The plan asks for {wanted.judged_on} {wanted.minimum:.2f} or more: {wanted.answer}."
    if wanted.estimate is None or wanted.low is None or wanted.high is None:
        return f"{demand} {wanted.judged_on} will answer, because {wanted.why}."
    found = (
        f"{wanted.judged_on} is {wanted.estimate:.2f} and lies, {share_words(wanted.level)} sure, between "
        f"{wanted.low:.2f} and {wanted.high:.2f} ({one_or_many(wanted.n, 'piece', 'pieces')})."
    )
    because = {
        "shown": f"Even the lower end reaches {wanted.minimum:.2f}.",
        "not shown": f"The value itself stays below {wanted.minimum:.2f}; more pieces will not help.",
    }.get(wanted.answer, f"The value reaches {wanted.minimum:.2f}, its lower end does not.")
    return f"{demand} {found} {because} {wanted.judged_on} answers, because {wanted.why}."


def capability_facts(one: CharacteristicReview) -> list[tuple[str, str]]:
    """Return (what, sentences) that a signer reads below the indices; empty where there are none."""
    found = one.capability
    if found is None:
        return []
    told = [
        ("Over time", over_time_words(found) or steady_words(one)),
        ("How sure", _how_sure(found)),
        ("Trend taken out", _without_trend(one)),
        ("Distribution", distribution_words(found, one.characteristic)),
        ("Normal or not", normality_words(found)),
        ("Outside the tolerance", outside_words(found)),
    ]
    return [(what, says) for what, says in told if says]


def steady_words(one: CharacteristicReview) -> str:
    """Say that checks leave the limits that all of them give together; "" where they do not.

    Limits that follow the die are not meant: a die that wears leaves every fixed mean.
    """
    plain = None if one.capability is None else one.capability.plain
    if plain is None or not plain.beyond or one.characteristic.judged_by == "with_die_wear":
        return ""
    lie = "lies" if plain.beyond == 1 else "lie"
    return (
        f"{plain.beyond:,} of {one_or_many(plain.subgroups, 'check', 'checks')} {lie} outside the limits that all of "
        "them give together. The process was not steady: Cp and Cpk promise nothing."
    )


def _how_sure(found: ModelCapability) -> str:
    honest, few = found.honest, few_pieces(found.n).replace("-", "−").replace("sigma", "the spread")
    said = "The interval takes every piece as independent, because there are too few checks."
    if isinstance(honest, HonestCapability):
        alone = found.n == found.subgroups
        said = f"The interval comes from the spread between {found.subgroups:,} checks."
        if not alone:
            said += f" For the mean, {found.n:,} pieces count as about {honest.effective_n:,.0f} independent ones."
    elif honest is not None:
        said = f"The interval comes from the spread between {found.subgroups:,} checks, drawn anew 500 times."
    order = found.order
    if order is not None and order.present:
        said += " Neighbouring checks are related, so the truth may lie somewhat outside."
    return f"{said} {few}".strip()


def _without_trend(one: CharacteristicReview) -> str:
    left = one.without_trend
    if left is None:
        return ""
    moves = "the wear and the slide moves" if left.moves else "the trend"
    sets = one_or_many(left.lives + left.short, "die set", "die sets")
    return (
        f"Without {moves} of {sets}, Ppk would be {index_words(left.capability.ppk)}. "
        f"They make {share_words(left.share)} of the variance. "
        "Only a slide that followed the wear perfectly would get there: a goal, not a promise."
    )
