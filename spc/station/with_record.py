"""What the station does with a record, gathered for whoever imports it from `spc.station`."""

from spc.station.compare import Comparison
from spc.station.compared_checks import ComparedBy
from spc.station.log_event import Logged
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
from spc.station.station import Station, open_station
from spc.station.take_files import FilesTaken

__all__ = [
    "CharacteristicReview", "CheckDuty", "ComparedBy", "Comparison", "DieSetUse", "DueCheck", "FilesTaken",
    "HeldCheck", "LimitsInForce", "Logged", "LookReview", "Requirement", "Review", "ReviewEvent", "Station",
    "open_station",
]  # fmt: skip
