"""Paper: the review as HTML, PDF, workbook and JSON; every number with how it came to be."""

from spc.reports.review_html import review_html
from spc.reports.review_json import review_json
from spc.reports.review_pdf import review_pdf
from spc.reports.review_xlsx import review_xlsx
from spc.reports.write_review import REVIEW_FORMS, write_review

__all__ = ["REVIEW_FORMS", "review_html", "review_json", "review_pdf", "review_xlsx", "write_review"]
