"""The optional table of costs in a plan, from which the station works out when to change the dies and when to check."""

from spc.intake.plan_table import Table
from spc.shop.costs import Costs

__all__ = ["read_costs"]


def read_costs(top: Table) -> Costs | None:
    """Read ``[costs]``; None where the plan has none, or where it is refused.

    Parameters
    ----------
    top : Table
        The whole plan.
    """
    if "costs" not in top.values:
        return None
    table = top.below("costs", "costs")
    table.refuse_unknown_keys()
    changes = [table.number(key, above=0) for key in ("planned_die_change", "unplanned_die_change")]
    for key, amount in zip(("planned_die_change", "unplanned_die_change"), changes, strict=True):
        if amount is None and key not in table.values:
            table.refuse(key, f"the costs want {key}", "an amount of money above 0")
    scrap, spoilt = table.number("scrap_per_piece", above=0), table.whole("spoilt_pieces")
    if (scrap is None) != (spoilt is None):
        missing = "scrap_per_piece" if scrap is None else "spoilt_pieces"
        if missing not in table.values:
            table.refuse(missing, "scrap_per_piece and spoilt_pieces belong together", "both or neither")
    check = table.number("check", above=0)
    if check is not None and scrap is None and "scrap_per_piece" not in table.values:
        table.refuse("scrap_per_piece", "what a check costs is weighed against scrap", "both, or no check")
    planned, unplanned = changes
    if planned is None or unplanned is None:
        return None
    return Costs(
        planned_die_change=float(planned),
        unplanned_die_change=float(unplanned),
        scrap_per_piece=float(scrap or 0),
        spoilt_pieces=spoilt or 0,
        currency=table.text("currency"),
        check=float(check or 0),
    )
