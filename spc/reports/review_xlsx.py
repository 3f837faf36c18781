"""The review as a workbook: a summary, every subgroup, every check due, every event."""

import io
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from spc.reports.capability_words import capability_facts
from spc.reports.comparison_part import COMPARED_HEADS, comparison_rows
from spc.reports.model_words import model_name
from spc.reports.words import PURPOSE_WORDS
from spc.shop.moment import to_local
from spc.shop.names import shop_name
from spc.station import VERDICT_WORDS, CharacteristicReview, Review
from spc.station.review_indices import indices_shown
from spc.statistics import Estimate, HonestCapability

__all__ = ["review_xlsx"]

_LIMITS_WORDS = {"forecast": "follows the die"}

Row = list[Any]
_SUMMARY = [
    "machine", "characteristic", "unit", "lower tolerance", "upper tolerance", "hourly checks", "pieces",
    "out of tolerance", "struck out", "in doubt", "Ppk", "Ppk low", "Ppk high", "Cpk", "Cpk low", "Cpk high",
    "interval level", "pieces for the mean", "distribution", "over time", "Ppk without trend",
    "Ppk without trend low", "Ppk without trend high", "demand", "answer", "judged on", "limits", "signed by",
    "signed at", "centre", "lower limit", "upper limit", "limit of the range", "period centre",
    "period mean range", "remark",
]  # fmt: skip
_SUBGROUPS = [
    "machine", "characteristic", "unit", "time", "purpose", "die set", "counter", "age", "n", "mean", "range",
    "lower limit", "upper limit", "limit of the range", "limits", "struck out", "in doubt", "verdict", "says", "pieces",
]  # fmt: skip
_DUE = ["machine", "due", "standing", "made", "running minutes late"]
_EVENTS = ["machine", "time", "what", "note", "by"]
_ABOUT = ["part", "machine", "from", "to", "shift", "made", "checks", "due", "in time", "late", "missed"]


def review_xlsx(reviews: Sequence[Review]) -> bytes:
    """Return reviews as an XLSX file; times are the plant's wall clock, sizes in the plan's unit."""
    book = Workbook()
    book.remove(book.worksheets[0])
    _sheet(book, "about", _ABOUT, [_about(review) for review in reviews])
    _sheet(
        book,
        "summary",
        _SUMMARY,
        [_line(one, review) for review in reviews for one in review.characteristics],
    )
    _sheet(book, "subgroups", _SUBGROUPS, [row for review in reviews for row in _subgroups(review)])
    _sheet(book, "compared", COMPARED_HEADS, [row for review in reviews for row in comparison_rows(review)])
    _sheet(book, "checks due", _DUE, [row for review in reviews for row in _due(review)])
    _sheet(book, "events", _EVENTS, [row for review in reviews for row in _events(review)])
    kept = io.BytesIO()
    book.save(kept)
    return kept.getvalue()


def _sheet(book: Workbook, name: str, heads: Row, rows: Sequence[Row]) -> None:
    sheet = book.create_sheet(name)
    sheet.append(heads)
    for cell in sheet[1]:
        cell.font = Font(bold=True)
    for row in rows:
        sheet.append([_plain(value) for value in row])
    sheet.freeze_panes = "A2"
    for column, head in enumerate(heads, start=1):
        widest = max([len(str(head)), *(len(str(row[column - 1])) for row in rows[:200])])
        sheet.column_dimensions[get_column_letter(column)].width = min(48, widest + 2)


def _plain(value: Any) -> Any:
    """Keep words words: a text that begins like a formula is not one."""
    if isinstance(value, str) and value[:1] in ("=", "+", "-", "@"):
        return f" {value}"
    return value


def _wall(moment: datetime | None, review: Review) -> datetime | None:
    return None if moment is None else to_local(moment, review.plan.zone).replace(microsecond=0)


def _about(review: Review) -> Row:
    duty = review.duty
    return [
        review.plan.part, review.machine, _wall(review.from_time, review), _wall(review.to_time, review), review.shift,
        _wall(review.made_at, review), review.checks, len(duty.due), duty.count("in time"), duty.count("late"),
        duty.count("missed"),
    ]  # fmt: skip


def _line(one: CharacteristicReview, review: Review) -> Row:
    characteristic, limits, wanted, period = one.characteristic, one.limits, one.requirement, one.period_chart
    lower, upper = characteristic.tolerance.lower, characteristic.tolerance.upper
    stands: Row = [None] * 7
    if limits is not None:
        stands = [
            limits.standing, limits.signed_by, _wall(limits.signed_at, review), limits.centre, limits.lower,
            limits.upper, limits.spread_upper,
        ]  # fmt: skip
    return [
        review.machine, shop_name(characteristic.name), characteristic.unit, None if lower is None else float(lower),
        None if upper is None else float(upper), one.subgroups, one.pieces, one.outside, one.struck_out, one.suspect,
        *_capability(one),
        None if wanted is None else wanted.minimum, None if wanted is None else wanted.answer,
        None if wanted is None else wanted.judged_on, *stands, None if period is None else period.centre,
        None if period is None else _number(period.spread_centre),
        _remark(one),
    ]  # fmt: skip


def _capability(one: CharacteristicReview) -> Row:
    """Return the cells from Ppk to the trend taken out; empty ones where there are too few pieces."""
    found, trend = one.capability, one.without_trend
    if found is None:
        return [None] * 13
    shown = {line.name: line.index for line in indices_shown(found)}
    honest = found.honest
    effective = honest.effective_n if isinstance(honest, HonestCapability) else None
    over_time = None if found.over_time is None else found.over_time.model
    return [
        *_index(shown.get("Ppk")), *_index(shown.get("Cpk")), found.level, effective, model_name(found.model.name),
        over_time, *_index(None if trend is None else trend.capability.ppk),
    ]  # fmt: skip


def _remark(one: CharacteristicReview) -> str:
    facts = [f"{what}: {says}" for what, says in capability_facts(one)]
    return " ".join(words for words in (one.capability_remark, one.limits_remark, *facts) if words)


def _index(index: Estimate | None) -> Row:
    return [None, None, None] if index is None else [index.estimate, index.low, index.high]


def _number(level: float | tuple[float, ...]) -> float | None:
    return level if isinstance(level, float | int) else None


def _subgroups(review: Review) -> list[Row]:
    return [
        [
            review.machine, shop_name(one.characteristic.name), one.characteristic.unit, _wall(point.time, review),
            PURPOSE_WORDS.get(point.purpose, point.purpose), point.die_set, point.counter, point.age, point.n,
            point.mean, point.range, point.lower, point.upper, point.spread_upper,
            _LIMITS_WORDS.get(point.standing, point.standing), point.struck_out, point.suspect,
            VERDICT_WORDS.get(point.verdict, point.verdict), " ".join(point.says),
            "; ".join(f"{value:.10g}" for value in point.values),
        ]
        for one in review.characteristics
        for point in one.history.points
    ]  # fmt: skip


def _due(review: Review) -> list[Row]:
    return [
        [
            review.machine,
            _wall(each.due, review),
            each.standing,
            _wall(each.made, review),
            round(each.minutes_late, 1),
        ]
        for each in review.duty.due
    ]


def _events(review: Review) -> list[Row]:
    return [
        [review.machine, _wall(each.time, review), each.label, each.note, each.by] for each in review.events
    ]
