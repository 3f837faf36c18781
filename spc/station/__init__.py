"""What people do, one verb a file; `fold.step` is the one pure judgement that everything runs."""

from typing import TYPE_CHECKING, Any

from spc.shop.verdict_line import verdict_line
from spc.station.fold import step
from spc.station.replay import replay
from spc.station.state import StreamState
from spc.station.wording import VERDICT_WORDS

if TYPE_CHECKING:
    from spc.station.with_record import (
        CharacteristicReview,
        CheckDuty,
        ComparedBy,
        Comparison,
        DieSetUse,
        DueCheck,
        FilesTaken,
        HeldCheck,
        LimitsInForce,
        Logged,
        LookReview,
        Requirement,
        Review,
        ReviewEvent,
        Station,
        open_station,
    )

__all__ = [
    "CharacteristicReview", "CheckDuty", "ComparedBy", "Comparison", "DieSetUse", "DueCheck", "FilesTaken",
    "HeldCheck", "LimitsInForce", "Logged", "LookReview", "Requirement", "Review", "ReviewEvent", "Station",
    "StreamState", "VERDICT_WORDS", "open_station", "replay", "step", "verdict_line",
]  # fmt: skip


def __getattr__(name: str) -> Any:
    """Load what works on a record once somebody asks for it: to judge a history, none is needed."""
    if name not in __all__:
        msg = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(msg)
    from spc.station import with_record

    return getattr(with_record, name)
