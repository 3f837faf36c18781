"""How a figure of a standard is known: seen in print, remembered, or not known at all."""

from dataclasses import dataclass

__all__ = ["READ", "FROM_MEMORY", "NOT_KNOWN", "NOT_DEFINED", "Known"]

READ = "read"
FROM_MEMORY = "from memory"
NOT_KNOWN = "not known"
NOT_DEFINED = "not defined"


@dataclass(frozen=True, slots=True)
class Known:
    """A figure of a standard together with how it is known.

    Attributes
    ----------
    value : float or None
        The figure; None where the standard has none there or where it is not known here.
    how : str
        `READ` in a public text that restates the standard, `FROM_MEMORY`, `NOT_KNOWN` (the standard has a
        figure, it could not be obtained), `NOT_DEFINED` (the standard has no figure there).
    """

    value: float | None
    how: str

    @property
    def unknown(self) -> bool:
        """Whether the standard has a figure that isn't known here."""
        return self.how == NOT_KNOWN
