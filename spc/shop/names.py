"""How the floor says the names that a plan gives to characteristics: one way, on every page, picture and sheet."""

from typing import Final

__all__ = ["shop_name"]

_SAID: Final = {"over pin": "over pins", "runout": "run-out", "lead error": "lead", "pitch error": "pitch"}


def shop_name(name: str) -> str:
    """Say a characteristic of the plan as shops do, for the middle of a sentence.

    Parameters
    ----------
    name : str
        As the plan writes it.

    Returns
    -------
    str
        Beginning as the plan begins it, without underscores.

    Examples
    --------
    >>> shop_name("crest_diameter"), shop_name("over_pin"), shop_name("over_wire"), shop_name("runout")
    ('crest diameter', 'over pins', 'over wire', 'run-out')
    """
    spaced = name.replace("_", " ").strip()
    return _SAID.get(spaced, spaced)
