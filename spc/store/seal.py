"""The seal on a fact: a hash over the fact and the seal before it."""

import json
from collections.abc import Sequence
from hashlib import sha256

__all__ = ["FIRST_LINK", "link_of"]

FIRST_LINK = ""


def link_of(previous: str, fields: Sequence[object]) -> str:
    """Seal one fact, for the desk that writes it and the ledger that checks it.

    Parameters
    ----------
    previous : str
        Seal of the fact before it, `FIRST_LINK` for the first.
    fields : sequence of str, int or None
        Its columns in their order, the seal left out.

    Examples
    --------
    >>> link_of(FIRST_LINK, (1, "P-31"))[:12]
    '844700c03303'
    """
    content = json.dumps(list(fields), separators=(",", ":"))
    return sha256(f"{previous}\n{content}".encode()).hexdigest()
