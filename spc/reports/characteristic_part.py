"""One characteristic on paper: its chart, limits in force, single pieces, and the indices with their intervals."""

from spc.drawing.pieces import pieces_picture
from spc.drawing.probability import probability_picture
from spc.drawing.xbar_r import xbar_r_picture
from spc.reports.capability_words import (
    PROBABILITY_CAPTION,
    answer_sentence,
    capability_facts,
    capability_title,
)
from spc.reports.pictures import inline_picture
from spc.reports.summary_part import answer_look, standing_words
from spc.reports.table import table
from spc.reports.words import (
    PURPOSE_WORDS,
    begun,
    clock,
    interval_words,
    named,
    one_or_many,
    safe,
    share_words,
    size,
    unit_words,
)
from spc.shop import Characteristic
from spc.station import CharacteristicReview, Review
from spc.station.limits_now import lower_limit
from spc.station.review_indices import indices_shown
from spc.station.views import CheckPoint

__all__ = ["characteristic_part"]

_CHART_PX, _HALF_PX = 900, 600
"""Drawn narrower than on a page, so that the words come out large enough to read."""


def characteristic_part(one: CharacteristicReview, review: Review, name: str) -> str:
    """Return the part about one characteristic as HTML; `name` keeps its pictures apart from others."""
    characteristic = one.characteristic
    fresh = "" if one.capability is None else ' class="fresh"'
    head = f"<h2{fresh}>{safe(begun(named(characteristic)))}</h2>"
    head += f'<p class="lead">{_tolerance(characteristic)}. {_counted(one)}</p>'
    means = xbar_r_picture(one.history, "light") | {"width": _CHART_PX}
    chart = inline_picture(means, f"{name}m", _judged(one), "chart")
    values = [value for point in _hourly(one) for value in point.values]
    pieces = ""
    if values:
        caption = f"The {len(values):,} hourly pieces, one by one."
        picture = pieces_picture(values, characteristic, "light") | {"width": _HALF_PX}
        pieces = inline_picture(picture, f"{name}p", caption, "pieces")
    beside = f'<div class="beside">{pieces}{_probability(one, name)}</div>' if pieces else ""
    return f"{head}{chart}{_limits(one, review)}{_capability(one)}{beside}{_facts(one)}"


def _hourly(one: CharacteristicReview) -> list[CheckPoint]:
    return [
        point
        for point in one.history.points
        if point.purpose == "hourly" and not point.struck_out and not point.suspect
    ]


def _tolerance(characteristic: Characteristic) -> str:
    unit, tolerance = safe(unit_words(characteristic)), characteristic.tolerance
    low, high = (
        None if each is None else str(each).replace("-", "−") for each in (tolerance.lower, tolerance.upper)
    )
    target = characteristic.target
    aim = "" if target is None else f", target {target} {unit}".replace("-", "−")
    if low is None or high is None:
        return f"Tolerance {f'from {low} {unit} up' if high is None else f'up to {high} {unit}'}{aim}"
    return f"Tolerance {low} to {high} {unit}{aim}"


def _counted(one: CharacteristicReview) -> str:
    outside = "None of them is" if not one.outside else one_or_many(one.outside, "piece is", "pieces are")
    said = [
        f"{one_or_many(one.subgroups, 'hourly check', 'hourly checks')} with "
        f"{one_or_many(one.pieces, 'piece counts', 'pieces count')} here. {outside} out of tolerance."
    ]
    if one.other_checks:
        others = ", ".join(
            f"{checks:,} {PURPOSE_WORDS.get(purpose, purpose)} ({pieces:,} pieces)"
            for purpose, checks, pieces in one.other_checks
        )
        said.append(f"Drawn, but counted apart: {others}.")
    if one.struck_out or one.suspect:
        said.append(f"Left out: {one.struck_out:,} struck out, {one.suspect:,} in doubt.")
    return " ".join(said)


def _judged(one: CharacteristicReview) -> str:
    several = any(point.n > 1 for point in one.history.points)
    drawn = "Means and ranges of the checks" if several else "The piece of each check"
    if not one.judged:
        return f"{drawn}. No limits stood when they were made."
    return (
        f"{drawn}, with the limits of that moment. "
        f"{one.beyond:,} of {one_or_many(one.judged, 'hourly check', 'hourly checks')} lay beyond them."
    )


def _limits(one: CharacteristicReview, review: Review) -> str:
    rows = [row for row in (_row_in_force(one, review), _row_of_these(one)) if row]
    why = f"<p>{safe(one.limits_remark)}</p>" if one.limits_remark else ""
    if not rows:
        return why
    heads = [
        "limits", "centre", "lower", "upper", "spread of a piece", "limit of the range", "how it came to be",
    ]  # fmt: skip
    return why + table(heads, rows, numbers=[1, 2, 3, 4, 5])


def _row_in_force(one: CharacteristicReview, review: Review) -> list[str]:
    characteristic, limits = one.characteristic, one.limits
    if limits is None:
        return []
    since = "" if limits.as_of is None else f", as of {clock(limits.as_of, review.plan.zone)}"
    base = f", from {limits.subgroups} checks" if limits.subgroups else ""
    return [
        "in force",
        size(limits.centre, characteristic, 1),
        size(limits.lower, characteristic, 1),
        size(limits.upper, characteristic, 1),
        "–" if limits.sigma_within is None else size(limits.sigma_within, characteristic, 2),
        size(limits.spread_upper, characteristic, 1),
        f"{standing_words(one, review.plan.zone)}{base}{since}; for {one_or_many(limits.n, 'piece', 'pieces')} a check",
    ]


def _row_of_these(one: CharacteristicReview) -> list[str]:
    characteristic, period = one.characteristic, one.period_chart
    if period is None:
        return []
    follows = characteristic.judged_by == "with_die_wear"
    low, high, spread = (_level(each) for each in (period.lower, period.upper, period.spread_upper))
    lower = None if low is None else lower_limit(characteristic, low)
    return [
        '<span class="line">of these checks</span>',
        size(period.centre, characteristic, 1),
        "–" if follows else size(lower, characteristic, 1),
        "–" if follows else size(high, characteristic, 1),
        size(period.sigma_within, characteristic, 2),
        size(spread, characteristic, 1),
        f"spread by {safe(period.method)} from {one_or_many(period.subgroups, 'check', 'checks')}"
        + ("; no fixed limits, because the size follows the die" if follows else ""),
    ]


def _level(value: float | tuple[float, ...]) -> float | None:
    return value if isinstance(value, float | int) else None


def _capability(one: CharacteristicReview) -> str:
    found, answer = one.capability, answer_sentence(one)
    told = f"<h3>{capability_title(one)}</h3>" + (f"<p>{_marked(answer, one)}</p>" if answer else "")
    if found is None:
        return told + f"<p>{safe(one.capability_remark)}</p>"
    rows = [
        [
            f'<span class="bold">{line.name}</span>',
            f"{line.index.estimate:.2f}".replace("-", "−"),
            interval_words(line.honest),
            interval_words(line.textbook),
            f"{line.index.n:,}",
            line.about,
        ]
        for line in indices_shown(found, follows=one.characteristic.judged_by == "with_die_wear")
    ]
    level = share_words(found.level)
    heads = [
        "index", "value", f"{level} interval by checks", f"{level} interval by pieces", "pieces", "what it speaks of",
    ]  # fmt: skip
    return f"{told}{table(heads, rows, numbers=[1, 2, 3, 4])}"


def _facts(one: CharacteristicReview) -> str:
    """What stands behind the indices; a table, because its rows stay whole at the end of a page."""
    rows = "".join(f"<tr><td>{what}</td><td>{safe(says)}</td></tr>" for what, says in capability_facts(one))
    return f'<table class="told"><tbody>{rows}</tbody></table>' if rows else ""


def _marked(answer: str, one: CharacteristicReview) -> str:
    """Set the first sentence, which answers, in strong type."""
    wanted = one.requirement
    if wanted is None:
        return safe(answer)
    first, rest = answer.split(f": {wanted.answer}.", 1)
    return (
        f'{safe(first)}: <span class="answer {answer_look(wanted)}">{safe(wanted.answer)}</span>.{safe(rest)}'
    )


def _probability(one: CharacteristicReview, name: str) -> str:
    plot = (
        None if one.capability is None else probability_picture(one.capability, one.characteristic, "light")
    )
    if plot is None:
        return ""
    return inline_picture(plot | {"width": _HALF_PX}, f"{name}q", PROBABILITY_CAPTION, "probability")
