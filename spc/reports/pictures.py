"""Pictures for paper: drawn as SVG that stands inside the page, on white, with names of its own."""

import re
from typing import Any

from spc.drawing.export import to_svg

__all__ = ["inline_picture"]

_NAMES = re.compile(r"""(id=["']|url\(#|href=["']#)([A-Za-z][\w-]*)""")
_NAMESPACES = re.compile(r"""\sxmlns(:\w+)?=["'][^"']*["']""")


def inline_picture(spec: dict[str, Any], name: str, caption: str, kind: str) -> str:
    """Return a figure for a report.

    Parameters
    ----------
    spec : dict
        From any `*_picture` of the drawing room.
    name : str
        Letters and digits, another one for each picture of a page: clip paths are found by name, and two
        pictures on one page must not find each other's.
    caption : str
        Safe for HTML already.
    kind : {"chart", "pieces"}
        How wide it stands on the page.
    """
    svg = to_svg({**spec, "background": "#ffffff"})
    svg = _NAMES.sub(lambda found: f"{found[1]}{name}-{found[2]}", svg)
    svg = _NAMESPACES.sub("", svg)  # inside HTML the element alone says what it is
    return f'<figure class="{kind}">{svg}<figcaption>{caption}</figcaption></figure>'
