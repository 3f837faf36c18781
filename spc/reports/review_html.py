"""The review as one HTML page that stands alone: text, tables and pictures inside, ready to print on A4."""

from collections.abc import Sequence

from spc.errors import Refused
from spc.reports.characteristic_part import characteristic_part
from spc.reports.comparison_part import comparison_part
from spc.reports.duty_part import duty_part
from spc.reports.floor_part import floor_part
from spc.reports.style import page_style
from spc.reports.summary_part import summary_part
from spc.reports.words import clock, safe
from spc.station import Review

__all__ = ["review_html"]

_CAUTION = (
    "Local law and codes, the machine maker's manual, the plant's rules and qualified persons come first. "
    "The station gives statistics only: it never sends a setting to a machine and releases no parts by itself."
)
_HOW = (
    "Limits and indices use hourly checks. Set-up, first-off and other checks are drawn and counted apart. "
    "Checks that were struck out or are in doubt are left out.",
    "An index always stands with its interval and its number of pieces. The interval is 95 % sure to hold the true "
    "value. The interval by checks comes from the spread between checks, because pieces of one check resemble each "
    "other; it is never shown narrower than the interval by pieces, which, as textbooks give it, takes every piece "
    "as independent.",
    "The plan's demand is answered by the lower end of that interval. Shown: the lower end reaches the demand. Not "
    "shown: the value itself stays below it. Too few pieces to tell: in between. Ppk answers where the size follows "
    "the die or the checks moved; Cpk answers where they stood still.",
    "p is the chance of such a misfit, or a greater one, if the distribution were right. Below 0.05 it speaks against "
    "the distribution.",
)


def review_html(reviews: Sequence[Review]) -> str:
    """Return the reviews, one a machine, as a page without any outside request.

    Parameters
    ----------
    reviews : sequence of Review
        At least one.

    Raises
    ------
    Refused
        There is nothing to review.
    """
    if not reviews:
        raise Refused.one("there is nothing to review", do="name a part that was checked on some machine")
    first = reviews[0]
    machines = ", ".join(each.machine for each in reviews)
    title = f"Review of {first.plan.part} on {machines}"
    head = f"{title} · made {clock(first.made_at, first.plan.zone)}"
    body = "".join(_one(review, number) for number, review in enumerate(reviews))
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{safe(title)}</title><style>{page_style(head)}</style></head><body>{body}{_end()}</body></html>\n"
    )


def _one(review: Review, number: int) -> str:
    parts = [summary_part(review), duty_part(review)]
    parts += [
        characteristic_part(one, review, f"r{number}c{place}")
        for place, one in enumerate(review.characteristics)
    ]
    return f'<section class="review">{"".join(parts)}{comparison_part(review)}{floor_part(review)}</section>'


def _end() -> str:
    lines = "".join(f"<div>{word}</div>" for word in ("reviewed by", "date", "signature"))
    how = "".join(f'<p class="small">{words}</p>' for words in _HOW)
    return (
        f'<h2>How to read this</h2>{how}<div class="caution">{_CAUTION}</div><div class="sign">{lines}</div>'
    )
