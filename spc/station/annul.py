"""Strike a check out with a reason; nothing is erased."""

from spc.errors import Refused
from spc.shop import Annulled, CheckGauged
from spc.station.kept import fact_of, new_fact
from spc.station.refold import in_sequence, refold
from spc.store import Position, Store

__all__ = ["annul"]


def annul(store: Store, check_id: int, reason: str, *, by: str | None) -> None:
    """Strike a check out; what was judged after it is judged again.

    Parameters
    ----------
    check_id : int
        As in a verdict.
    reason : str
        Why; not empty. It stays in the record beside the check.

    Raises
    ------
    Refused
        No such check, one that is struck out already, or no reason.
    """
    if not reason.strip():
        raise Refused.one(
            "a check is only struck out with a reason", column="reason", do="say why in a few words"
        )
    with store.writing() as desk:
        kept = desk.fact(check_id)
        if kept is None or kept.kind != "check":
            raise Refused.one("there is no check with this number", value=str(check_id), column="check")
        stored = desk.facts_at(kept.part, kept.machine, kept.time)
        if check_id not in {
            each.check_id for each in in_sequence(desk, [s for s in stored if s.kind == "check"])
        }:
            raise Refused.one("this check was struck out already", value=str(check_id), column="check")
        check = fact_of(kept)
        if not isinstance(check, CheckGauged):  # its kind says so
            msg = f"fact {check_id} is no check"
            raise TypeError(msg)
        fact = Annulled(check.time, check.part, check_id, reason, by or "")
        desk.append([new_fact(fact, by=by or "", reason=reason)])
        desk.supersede_verdict(check_id)
        refold(desk, kept.part, Position(kept.time, kept.rank, 0))
