"""The nouns of the floor: frozen records of parts, machines, checks, events, signals and verdicts."""

from spc.shop.facts import (
    AlarmAnswered,
    Annulled,
    CheckGauged,
    EventLogged,
    Fact,
    LimitsSigned,
    PlanTaken,
    Reading,
)
from spc.shop.limits import ControlLimits, ToleranceLimits
from spc.shop.plan import Characteristic, CheckRule, Machine, Plan
from spc.shop.verdict import (
    Contain,
    Correction,
    DieLife,
    Explained,
    Explanation,
    PiecesLeft,
    Signal,
    Subgroup,
    Verdict,
    WarmGauging,
    WearRate,
)

__all__ = [
    "AlarmAnswered", "Annulled", "Characteristic", "CheckGauged", "CheckRule", "Contain", "ControlLimits",
    "Correction", "DieLife", "EventLogged", "Explained", "Explanation", "Fact", "LimitsSigned", "Machine",
    "PiecesLeft", "Plan", "PlanTaken", "Reading", "Signal", "Subgroup", "ToleranceLimits", "Verdict",
    "WarmGauging", "WearRate",
]  # fmt: skip
