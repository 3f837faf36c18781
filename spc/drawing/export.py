"""For reports and the README: a picture as SVG or PNG, made on this machine without any outside request."""

from typing import Any

import vl_convert

__all__ = ["to_png", "to_svg"]


def to_svg(spec: dict[str, Any]) -> str:
    """Return a picture as SVG whose words stay words.

    Parameters
    ----------
    spec : dict
        From any `*_picture` of this room; its fonts end with a generic family, so no word is lost.
    """
    return str(vl_convert.vegalite_to_svg(spec, allowed_base_urls=[]))


def to_png(spec: dict[str, Any], scale: float = 2.0) -> bytes:
    """Return a picture as PNG; `scale` 2 is sharp in print and on fine screens."""
    return bytes(vl_convert.vegalite_to_png(spec, scale=scale, allowed_base_urls=[]))
