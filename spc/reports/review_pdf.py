"""The HTML of a report as PDF, where the extra for it is installed."""

import importlib
from types import ModuleType

from spc.errors import Refused

__all__ = ["review_pdf"]


def review_pdf(html: str) -> bytes:
    """Return a report's HTML as PDF, with page x of y at the foot.

    Parameters
    ----------
    html : str
        From `review_html`.

    Raises
    ------
    Refused
        The extra for PDF is not installed; the HTML says the same.
    """
    printer = _printer()
    return bytes(printer.HTML(string=html, url_fetcher=_nothing_from_outside).write_pdf())


def _printer() -> ModuleType:
    try:
        return importlib.import_module("weasyprint")
    except (ImportError, OSError) as error:  # OSError: the text libraries of the system are missing
        raise Refused.one(
            "PDF needs an extra that is not installed here",
            value=str(error).splitlines()[0],
            allowed="html, xlsx and json always work, and the HTML prints the same pages from any browser",
            do="install it with: pip install 'rolled-parts-spc[pdf]', or write the review as .html",
        ) from error


def _nothing_from_outside(url: str, *_: object, **__: object) -> dict[str, object]:
    msg = f"a report fetches nothing: {url}"
    raise ValueError(msg)
