"""The nouns of the floor: frozen records of parts, machines, checks, events, signals and verdicts."""

from spc.shop.costs import Costs
from spc.shop.die_life import (
    ChangeAdvice,
    ChangeRule,
    DieLife,
    HoursLeft,
    Interval90,
    PiecesLeft,
    WearRate,
)
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
from spc.shop.form_geometry import (
    FormGeometry,
    GainGuess,
    GaugedSize,
    GrooveForm,
    SplineForm,
    ThreadForm,
    WormForm,
)
from spc.shop.limits import ControlLimits, ToleranceLimits
from spc.shop.plan import Characteristic, CheckRule, Machine, Plan
from spc.shop.reaction import FirstBad, NextCheck, Notice, Reaction
from spc.shop.trace import TRACE_OF, Trace, TraceRule
from spc.shop.verdict import (
    Contain,
    Correction,
    Explained,
    Explanation,
    Signal,
    Subgroup,
    Verdict,
    WarmGauging,
)

__all__ = [
    "AlarmAnswered", "Annulled", "ChangeAdvice", "ChangeRule", "Characteristic", "CheckGauged",
    "CheckRule", "Contain", "ControlLimits", "Correction", "Costs", "DieLife", "EventLogged", "Explained",
    "Explanation", "Fact", "FirstBad", "FormGeometry", "GainGuess", "GaugedSize", "GrooveForm",
    "HoursLeft", "Interval90", "LimitsSigned", "Machine", "NextCheck", "Notice", "PiecesLeft", "Plan", "PlanTaken",
    "Reaction", "Reading", "Signal", "SplineForm", "Subgroup", "TRACE_OF", "ThreadForm",
    "ToleranceLimits", "Trace", "TraceRule", "Verdict", "WarmGauging", "WearRate", "WormForm",
]  # fmt: skip
