"""What people do, one verb a file; `fold.step` is the one pure judgement that everything runs."""

from spc.shop.verdict_line import verdict_line
from spc.station.compare import Comparison
from spc.station.compared_checks import ComparedBy
from spc.station.fold import step
from spc.station.log_event import Logged
from spc.station.replay import replay
from spc.station.review_records import (
    CharacteristicReview,
    CheckDuty,
    DieSetUse,
    HeldCheck,
    LimitsInForce,
    LookReview,
    Requirement,
    Review,
    ReviewEvent,
)
from spc.station.schedule import DueCheck
from spc.station.state import StreamState
from spc.station.station import Station, open_station
from spc.station.take_files import FilesTaken
from spc.station.wording import VERDICT_WORDS

__all__ = [
    "CharacteristicReview", "CheckDuty", "ComparedBy", "Comparison", "DieSetUse", "DueCheck", "FilesTaken",
    "HeldCheck", "LimitsInForce", "Logged", "LookReview", "Requirement", "Review", "ReviewEvent", "Station",
    "StreamState", "VERDICT_WORDS", "open_station", "replay", "step", "verdict_line",
]  # fmt: skip
