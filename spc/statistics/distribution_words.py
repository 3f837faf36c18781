"""The names of distribution models as a sentence writes them."""

__all__ = ["distribution_words"]

_SPOKEN = {"rayleigh": "Rayleigh", "weibull": "Weibull", "half_normal": "half-normal"}


def distribution_words(name: str) -> str:
    """Write the word of a model as a person does, inside a sentence.

    Examples
    --------
    >>> distribution_words("folded_normal"), distribution_words("rayleigh")
    ('folded normal', 'Rayleigh')
    """
    return _SPOKEN.get(name, name.replace("_", " "))
