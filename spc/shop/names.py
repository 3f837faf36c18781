"""How the floor says the names that a plan gives to characteristics: one way, on every page, picture and sheet."""

from typing import Final

__all__ = ["setting_words", "shop_name"]

_UNITS: Final = {
    "s": "s",
    "mm": "mm",
    "um": "µm",
    "deg": "°",
    "rpm": "rpm",
    "c": "°C",
    "bar": "bar",
    "kn": "kN",
}
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


def setting_words(note: str, value: str) -> str:
    """Say a setting other than the slide's, for the middle of a sentence.

    Parameters
    ----------
    note : str
        What names it in the record, its unit behind an underscore; may be empty.
    value : str
        As logged.

    Examples
    --------
    >>> setting_words("dwell_s", "0.7"), setting_words("tilt_deg", "3.02"), setting_words("", "4")
    ('dwell set to 0.7 s', 'tilt set to 3.02 °', 'a setting set to 4')
    """
    name, _, unit = note.rpartition("_")
    if not name or unit not in _UNITS:
        return f"{shop_name(note) or 'a setting'} set to {value}"
    return f"{shop_name(name)} set to {value} {_UNITS[unit]}"
