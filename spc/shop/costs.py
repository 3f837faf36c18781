"""What changing a die set, a spoilt piece and a check cost, as the plan says it."""

from dataclasses import dataclass

__all__ = ["Costs"]


@dataclass(frozen=True, slots=True)
class Costs:
    """Money in the plan's currency.

    Attributes
    ----------
    planned_die_change : float
        One change at a moment of the shop's choice: work, standstill, the share of a grinding; above 0.
    unplanned_die_change : float
        One that the dies force: the same and what the hurry adds, without the pieces it spoils; above 0.
    scrap_per_piece : float
        A spoilt piece.
    spoilt_pieces : int
        Pieces that an unplanned end spoils, sorting included.
    currency : str
        Such as "EUR"; "" where the plan names none.
    check : float
        One check: gauging and whatever else it takes; 0 where the plan does not say.
    """

    planned_die_change: float
    unplanned_die_change: float
    scrap_per_piece: float = 0.0
    spoilt_pieces: int = 0
    currency: str = ""
    check: float = 0.0

    @property
    def unplanned(self) -> float:
        """Everything that one unplanned end costs.

        Examples
        --------
        >>> Costs(1_700, 2_400, 12, 300).unplanned
        6000.0
        """
        return float(self.unplanned_die_change + self.scrap_per_piece * self.spoilt_pieces)
