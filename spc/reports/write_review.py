"""Write a review to a file, in the form that the file's name asks for."""

from collections.abc import Sequence
from pathlib import Path

from spc.errors import Refused
from spc.reports.review_html import review_html
from spc.reports.review_json import review_json
from spc.reports.review_pdf import review_pdf
from spc.reports.review_xlsx import review_xlsx
from spc.station import Review

__all__ = ["REVIEW_FORMS", "write_review"]

REVIEW_FORMS = (".pdf", ".html", ".xlsx", ".json")


def write_review(path: str | Path, reviews: Sequence[Review]) -> Path:
    """Write reviews to a PDF, HTML, XLSX or JSON file and return its path.

    Raises
    ------
    Refused
        Another ending, no reviews, a folder that is missing or cannot be written, PDF without its extra.
    """
    target = Path(path)
    form = target.suffix.lower()
    if form not in REVIEW_FORMS:
        raise Refused.one(
            "a review cannot be written in this form", value=target.name, allowed=", ".join(REVIEW_FORMS)
        )
    if not reviews:
        raise Refused.one("there is nothing to review", do="name a part that was checked on some machine")
    content = _content(form, reviews)
    try:
        target.write_bytes(content)
    except OSError as error:
        raise Refused.one(
            f"the file cannot be written: {error.strerror or error}",
            file=str(target),
            allowed="a folder that exists and may be written to",
        ) from error
    return target


def _content(form: str, reviews: Sequence[Review]) -> bytes:
    if form == ".xlsx":
        return review_xlsx(reviews)
    if form == ".json":
        return review_json(reviews).encode("utf-8")
    html = review_html(reviews)
    return review_pdf(html) if form == ".pdf" else html.encode("utf-8")
