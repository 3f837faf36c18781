"""One characteristic on paper: its chart, limits in force, single pieces, and the indices with their intervals."""

from spc.drawing.pieces import pieces_picture
from spc.drawing.xbar_r import xbar_r_picture
from spc.reports.pictures import inline_picture
from spc.reports.summary_part import answer_words, standing_words
from spc.reports.table import table
from spc.reports.words import (
    PURPOSE_WORDS,
    clock,
    fallout_words,
    interval_words,
    named,
    one_or_many,
    safe,
    size,
    steady_words,
    unit_words,
)
from spc.shop import Characteristic
from spc.station import CharacteristicReview, Review
from spc.station.limits_now import lower_limit
from spc.station.views import CheckPoint

__all__ = ["characteristic_part"]


def characteristic_part(one: CharacteristicReview, review: Review, name: str) -> str:
    """Return the part about one characteristic as HTML; `name` keeps its pictures apart from others."""
    characteristic = one.characteristic
    head = f'<h2 class="fresh">{safe(named(characteristic))}</h2><p>{_tolerance(characteristic)}. {_counted(one)}</p>'
    chart = inline_picture(xbar_r_picture(one.history, "light"), f"{name}m", _judged(one), "chart")
    values = [value for point in _hourly(one) for value in point.values]
    pieces = ""
    if values:
        caption = f"The {len(values):,} hourly pieces one by one; the pieces of other checks are left out."
        pieces = inline_picture(
            pieces_picture(values, characteristic, "light"), f"{name}p", caption, "pieces"
        )
    return f"{head}{chart}{_limits(one, review)}{pieces}{_capability(one)}"


def _hourly(one: CharacteristicReview) -> list[CheckPoint]:
    return [
        point
        for point in one.history.points
        if point.purpose == "hourly" and not point.struck_out and not point.suspect
    ]


def _tolerance(characteristic: Characteristic) -> str:
    unit, tolerance = unit_words(characteristic), characteristic.tolerance
    low = "open" if tolerance.lower is None else str(tolerance.lower).replace("-", "−")
    high = "open" if tolerance.upper is None else str(tolerance.upper).replace("-", "−")
    aim = "" if characteristic.target is None else f", target {characteristic.target}"
    return f"Tolerance {low} to {high} {safe(unit)}{aim}"


def _counted(one: CharacteristicReview) -> str:
    said = [
        f"{one_or_many(one.subgroups, 'hourly check', 'hourly checks')} with "
        f"{one_or_many(one.pieces, 'piece', 'pieces')} count here; {one.outside:,} out of tolerance."
    ]
    if one.other_checks:
        others = ", ".join(
            f"{checks:,} {PURPOSE_WORDS.get(purpose, purpose)} ({pieces:,} pieces)"
            for purpose, checks, pieces in one.other_checks
        )
        said.append(f"Drawn but counted apart: {others}.")
    if one.struck_out or one.suspect:
        said.append(f"Left out: {one.struck_out:,} struck out, {one.suspect:,} in doubt.")
    return " ".join(said)


def _judged(one: CharacteristicReview) -> str:
    if not one.judged:
        return "Means and ranges as checked. No limits stood when these checks were made."
    return (
        f"Means and ranges with the limits that stood when each check was judged: "
        f"{one.beyond:,} of {one.judged:,} hourly checks lay beyond them."
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
        f"{standing_words(one, review.plan.zone)}{base}{since}; for {limits.n} a check",
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
        f"{safe(period.method)}, {period.subgroups:,} checks"
        + ("; none where the size follows the die" if follows else ""),
    ]


def _level(value: float | tuple[float, ...]) -> float | None:
    return value if isinstance(value, float | int) else None


def _capability(one: CharacteristicReview) -> str:
    plain, honest = one.capability, one.honest
    if plain is None or honest is None:
        return f"<h3>What the process holds</h3><p>{_demand(one)} {safe(one.capability_remark)}</p>"
    rows = [
        [
            f'<span class="bold">{name}</span>',
            f"{index.estimate:.2f}",
            interval_words(true),
            interval_words(index),
            f"{index.n:,}",
            what,
        ]
        for name, index, true, what in (
            ("Ppk", plain.ppk, honest.ppk, "all pieces, nearest limit"),
            ("Pp", plain.pp, honest.pp, "all pieces, if centred"),
            ("Cpk", plain.cpk, honest.cpk, "one check, nearest limit"),
            ("Cp", plain.cp, honest.cp, "one check, if centred"),
            ("Cpm", plain.cpm, None, "all pieces, from the target"),
        )
        if index is not None
    ]
    heads = [
        "index", "value", f"{honest.level:.0%} interval from the spread between checks".replace("%", " %"),
        f"{plain.level:.0%} interval as textbooks give it".replace("%", " %"), "n", "what it speaks of",
    ]  # fmt: skip
    told = f"<h3>What the process holds</h3><p>{_demand(one)} {safe(one.capability_remark)}</p>"
    return told + table(heads, rows, numbers=[1, 2, 3, 4]) + _how(one)


def _demand(one: CharacteristicReview) -> str:
    wanted = one.requirement
    if wanted is None:
        return ""
    low = "" if wanted.low is None else (f" (lower end {wanted.low:.2f}, n = {wanted.n:,})")
    return f"The plan asks for {answer_words(wanted)}{low}."


def _how(one: CharacteristicReview) -> str:
    plain, honest, normality = one.capability, one.honest, one.normality
    if plain is None or honest is None:
        return ""
    said = [
        f"Outside the tolerance: {fallout_words(plain.fallout_ppm, plain.n)}.",
        f"Mean {size(plain.mean, one.characteristic, 1)}, spread of all pieces "
        f"{size(plain.sigma_overall, one.characteristic, 2)}, of the pieces of one check "
        f"{size(plain.sigma_within, one.characteristic, 2)} {unit_words(one.characteristic)}; {plain.method}.",
        f"Spread between checks: {honest.method}; these {honest.n:,} pieces know the mean about as well as "
        f"{honest.effective_n:,.0f} independent ones. Textbook intervals take all pieces as independent: "
        f"{plain.ppk.method} for Ppk.",
        steady_words(one.characteristic, plain),
    ]
    if normality is not None and normality.p is not None:
        p = "p below 0.001" if normality.p < 0.001 else f"p = {normality.p:.3f}"
        said.append(f"Anderson-Darling against a normal distribution: {p}; coarse gauge steps lower it too.")
    return f'<p class="small quiet">{safe(" ".join(each for each in said if each))}</p>'
