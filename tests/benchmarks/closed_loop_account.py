"""What things cost in the race, and the account of a run."""

from dataclasses import dataclass, fields

__all__ = ["Account", "Costs"]


@dataclass(frozen=True)
class Costs:
    """What things cost, in units of about one piece's price over twelve (common practice, no source)."""

    bad_found: float = 12.0
    bad_passed_on: float = 50.0
    sorted_piece: float = 0.5
    check: float = 6.0
    move: float = 10.0
    look: float = 25.0
    die_set: float = 1500.0
    planned_change: float = 200.0
    unplanned_change: float = 700.0


@dataclass
class Account:
    """What a policy's run came to; counts, and `square_um2` the sum of squared deviations of means."""

    pieces: float = 0.0
    bad: float = 0.0
    bad_found: float = 0.0
    in_doubt: float = 0.0
    checks: float = 0.0
    moves: float = 0.0
    looks: float = 0.0
    sets: float = 0.0
    unplanned: float = 0.0
    lives_used: float = 0.0
    square_um2: float = 0.0

    def cost(self, costs: Costs) -> float:
        """Total cost per 1,000 pieces."""
        return sum(self.parts(costs).values())

    def parts(self, costs: Costs) -> dict[str, float]:
        """What it is made of, per 1,000 pieces; a die set that came off early costs by the pieces it did not make."""
        found = {
            "bad, found": costs.bad_found * self.bad_found,
            "bad, passed on": costs.bad_passed_on * (self.bad - self.bad_found),
            "sorting": costs.sorted_piece * self.in_doubt,
            "checks": costs.check * self.checks,
            "moves": costs.move * self.moves,
            "looks": costs.look * self.looks,
            "die sets": (costs.die_set + costs.planned_change) * self.sets,
            "breaks": costs.unplanned_change * self.unplanned,
        }
        return {name: 1000.0 * each / self.pieces for name, each in found.items()}

    def add(self, other: "Account") -> None:
        """Take another run in."""
        for each in fields(self):
            setattr(self, each.name, getattr(self, each.name) + getattr(other, each.name))
