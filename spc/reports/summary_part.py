"""First page of a review: what it is about, the verdicts counted, and every characteristic in one line."""

from spc.drawing.theme import verdict_look
from spc.reports.table import table
from spc.reports.words import PURPOSE_WORDS, begun, clock, interval_words, named, one_or_many, safe
from spc.station import CharacteristicReview, Requirement, Review
from spc.station.review_indices import index_of

__all__ = ["answer_look", "answer_words", "standing_words", "summary_part"]


def summary_part(review: Review) -> str:
    """Return the head of a review as HTML."""
    plan = review.plan
    period = f"{clock(review.from_time, plan.zone)} to {clock(review.to_time, plan.zone)}"
    shift = f", shift from {safe(review.shift)} only" if review.shift else ""
    facts = [
        ("part", f"{safe(plan.part)}, {safe(plan.description)}" if plan.description else safe(plan.part)),
        ("machine", safe(review.machine)),
        ("period", f"{period}{shift}, plant time ({safe(plan.zone)})"),
        ("made", f"{clock(review.made_at, plan.zone)}, from the station's record"),
        ("checks", _checks(review)),
    ]
    told = "".join(f"<dt>{name}</dt><dd>{words}</dd>" for name, words in facts)
    return (
        f"<h1>Review of {safe(plan.part)} on {safe(review.machine)}</h1>"
        f'<dl class="facts">{told}</dl>{_verdicts(review)}{_lines(review)}'
    )


def standing_words(one: CharacteristicReview, zone: str) -> str:
    """Return how the limits in force stand, and who stands for them."""
    limits = one.limits
    if limits is None:
        return "none yet"
    if limits.standing == "signed":
        when = "" if limits.signed_at is None else f", {clock(limits.signed_at, zone)}"
        return f"signed by {safe(limits.signed_by)}{when}"
    if limits.standing == "provisional":
        return "provisional, nobody has signed"
    return "follow the die"


def answer_words(requirement: Requirement | None) -> str:
    """Return the plan's demand and its answer, for a cell of a table."""
    if requirement is None:
        return "none"
    return (
        f"{requirement.judged_on} {requirement.minimum:.2f} or more: "
        f'<span class="answer {answer_look(requirement)}">{safe(requirement.answer)}</span>'
    )


def answer_look(requirement: Requirement) -> str:
    """Return the class of the style sheet for an answer."""
    return {"shown": "shown", "not shown": "not-shown"}.get(requirement.answer, "cannot-tell")


def _index(one: CharacteristicReview) -> str:
    """Return Ppk with its interval and pieces; neither is torn apart at the end of a line."""
    if one.capability is None:
        return "–"
    index = index_of(one.capability, "Ppk")
    held = (f"{index.estimate:.2f}".replace("-", "−"), f"({interval_words(index)},", f"n = {index.n:,})")
    return " ".join(f'<span class="line">{words}</span>' for words in held)


def _checks(review: Review) -> str:
    if not review.checks:
        return "none in this period"
    kinds = ", ".join(
        f"{count:,} {PURPOSE_WORDS.get(purpose, purpose)}" for purpose, count in review.purposes
    )
    struck = (
        f"; {one_or_many(len(review.struck_out), 'struck out', 'struck out')}" if review.struck_out else ""
    )
    return f"{review.checks:,}: {kinds}{struck}"


def _verdicts(review: Review) -> str:
    items = []
    for word, count in review.verdicts:
        look = verdict_look(word, "light")
        items.append(f"<li><b>{count:,}</b>{_mark(look.svg(14))}{safe(look.words)}</li>")
    duty = review.duty
    if duty.interval_minutes is not None:
        made = f"{duty.count('in time') + duty.count('late'):,} of {len(duty.due):,}"
        says = f"checks due were made, {duty.count('late'):,} of them late; {duty.count('missed'):,} missed"
        items.append(f"<li><b>{made}</b>{says}</li>")
    return f'<ul class="counts">{"".join(items)}</ul>'


def _mark(svg: str) -> str:
    return svg.replace(' xmlns="http://www.w3.org/2000/svg"', "")


def _lines(review: Review) -> str:
    if not review.characteristics:
        return "<p>No check of this part was made on this machine in the period.</p>"
    rows = [
        [
            f'<span class="bold">{safe(begun(named(one.characteristic)))}</span>',
            f"{one.subgroups:,}",
            f"{one.pieces:,}",
            f"{one.outside:,}",
            _index(one),
            answer_words(one.requirement),
            standing_words(one, review.plan.zone),
        ]
        for one in review.characteristics
    ]
    heads = ["what", "hourly checks", "pieces", "out of tolerance", "Ppk (95 % interval)", "demand", "limits"]
    return table(heads, rows, numbers=[1, 2, 3])
