"""The station from Python: one object whose methods are the verbs."""

from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from spc.intake import HistoryRead
from spc.shop import AlarmAnswered, LimitsSigned, Plan, Verdict
from spc.station.annul import annul
from spc.station.answer_alarm import answer_alarm
from spc.station.answers import answer_to
from spc.station.chart_choice import ChartChoice, chart_choice
from spc.station.check_in import check_in, known_plan
from spc.station.compare import Comparison, compare
from spc.station.compared_checks import ComparedBy
from spc.station.die_board import die_board
from spc.station.die_life_slope import DieLifeSlope, die_life_slopes
from spc.station.first_mounted import first_mounted
from spc.station.first_phase import first_phase
from spc.station.first_phase_records import FirstPhase
from spc.station.history import NEWEST_CHECKS, characteristic_histories
from spc.station.kept import verdict_of
from spc.station.limits_history import SignedLimits, limits_history
from spc.station.limits_standing import LimitsStanding, limits_standing
from spc.station.log_event import Logged, log_event
from spc.station.operator_view import operator_view
from spc.station.promise import CharacteristicPromise, promise
from spc.station.refold import present_state
from spc.station.review import review
from spc.station.review_records import Review
from spc.station.sign_limits import sign_first_phase, sign_limits
from spc.station.take_files import FilesTaken, Progress, take_history
from spc.station.take_plan import plan_in_force, take_plan
from spc.station.views import CharacteristicHistory, DieBoardRow, OperatorView, WearStory
from spc.station.wear_story import wear_story
from spc.store import Store, open_store

__all__ = ["Station", "open_station"]


def open_station(url_or_path: str | Path, *, now: Callable[[], datetime] | None = None) -> "Station":
    """Open a record, made if missing, for whoever works from Python.

    Parameters
    ----------
    url_or_path : str or Path
        A file, ":memory:", or a database URL.
    now : callable or None
        The clock, aware; tests bring their own.

    Raises
    ------
    Refused
        The record cannot be opened, with what to do.

    Examples
    --------
    >>> station = open_station(":memory:")
    >>> station.plans()
    ()
    """
    clock = now or (lambda: datetime.now(UTC))
    return Station(open_store(url_or_path, now=clock), clock)


class Station:
    """One record and its verbs; safe to share between threads."""

    def __init__(self, store: Store, now: Callable[[], datetime]) -> None:
        self.store = store
        self.now = now

    def take_plan(self, path_or_text: str | Path, *, by: str = "", at: datetime | None = None) -> Plan:
        """Bring a plan into force; a part's first plan counts from the beginning."""
        return take_plan(self.store, path_or_text, at=at or self.now(), by=by)

    def check_in(
        self, check: Mapping[str, Any], by: str | None = None, at: datetime | None = None
    ) -> Verdict:
        """Take one check in and say what to do next."""
        return check_in(self.store, check, by=by, at=at or self.now())

    def log(self, event: Mapping[str, Any], by: str | None = None, at: datetime | None = None) -> Logged:
        """Log what was done at a machine, in the columns of `events.csv`."""
        return log_event(self.store, event, by=by, at=at or self.now())

    def annul(self, check_id: int, reason: str, by: str | None = None) -> None:
        """Strike a check out with a reason; nothing is erased."""
        annul(self.store, check_id, reason, by=by)

    def answer(
        self, check_id: int, cause: str, action: str, by: str | None = None, at: datetime | None = None
    ) -> AlarmAnswered:
        """Keep what was found and done about a verdict."""
        return answer_alarm(self.store, check_id, cause, action, by=by, at=at or self.now())

    def answer_to(self, check_id: int | None) -> AlarmAnswered | None:
        """Return the answer that stands for the verdict on a check; None where nobody answered."""
        if check_id is None:
            return None
        with self.store.reading() as shelf:
            return answer_to(shelf, check_id)

    def sign_limits(
        self,
        part: str,
        machine: str,
        characteristic: str,
        by: str,
        reason: str = "",
        at: datetime | None = None,
    ) -> LimitsSigned:
        """Sign the provisional limits of a characteristic."""
        return sign_limits(
            self.store, part, machine, characteristic, by=by, reason=reason, at=at or self.now()
        )

    def first_phase(
        self,
        part: str,
        machine: str,
        characteristic: str,
        *,
        from_time: datetime | None = None,
        to_time: datetime | None = None,
        excluded: Mapping[int, str] | None = None,
    ) -> FirstPhase:
        """Return the limits that the hourly checks of a period give, and which of them stand out."""
        with self.store.reading() as shelf:
            return first_phase(
                shelf,
                known_plan(shelf, part),
                machine,
                characteristic,
                from_time=from_time,
                to_time=to_time,
                excluded=excluded,
            )

    def sign_first_phase(
        self,
        part: str,
        machine: str,
        characteristic: str,
        *,
        by: str,
        reason: str,
        from_time: datetime | None = None,
        to_time: datetime | None = None,
        excluded: Mapping[int, str] | None = None,
        at: datetime | None = None,
    ) -> LimitsSigned:
        """Sign the limits of a first phase; they judge from now on."""
        return sign_first_phase(
            self.store,
            part,
            machine,
            characteristic,
            from_time=from_time,
            to_time=to_time,
            excluded=excluded or {},
            by=by,
            at=at or self.now(),
            reason=reason,
        )

    def limits_history(self, part: str, machine: str, characteristic: str) -> tuple[SignedLimits, ...]:
        """Return every signed set of limits of a characteristic, oldest first."""
        with self.store.reading() as shelf:
            return limits_history(shelf, part, machine, characteristic)

    def limits_standing(self, part: str, machine: str) -> tuple[LimitsStanding, ...]:
        """Return the limits that judge the next check of every gauged characteristic."""
        with self.store.reading() as shelf:
            return limits_standing(shelf, known_plan(shelf, part), machine)

    def die_life_slopes(
        self, part: str, machine: str, characteristic: str, from_time: datetime, to_time: datetime
    ) -> tuple[DieLifeSlope, ...]:
        """Return the trended chart of every die set that was on in a period, newest first."""
        with self.store.reading() as shelf:
            plan = known_plan(shelf, part)
            return die_life_slopes(shelf, plan, machine, characteristic, from_time, to_time)

    def promise(self, part: str, machine: str) -> tuple[CharacteristicPromise, ...]:
        """Return what the plan promises for every gauged characteristic: false alarms, and a step found."""
        with self.store.reading() as shelf:
            return promise(shelf, known_plan(shelf, part), machine)

    @staticmethod
    def chart_choice(n: int, sigma_um: float, step_um: float, checks_between: float) -> ChartChoice:
        """Return constants of an EWMA and a CUSUM for a wanted false-alarm rate, and how soon each finds a step."""
        return chart_choice(n, sigma_um, step_um, checks_between)

    def take_history(
        self, plans: Sequence[Plan], history: HistoryRead, *, by: str = "", progress: Progress | None = None
    ) -> FilesTaken:
        """Take read files in; safe to repeat."""
        return take_history(self.store, plans, history, at=self.now(), by=by, progress=progress)

    def first_mounted(self, machines: Collection[str]) -> dict[str, datetime]:
        """Return when the record first saw a die set mounted on each of these machines."""
        with self.store.reading() as shelf:
            return first_mounted(shelf, machines)

    def verdict(self, check_id: int | None) -> Verdict | None:
        """Return the verdict that stands for a check; None where there is none or it was struck out."""
        if check_id is None:
            return None
        with self.store.reading() as shelf:
            kept = shelf.standing_verdicts([check_id]).get(check_id)
        return None if kept is None else verdict_of(kept)

    def plans(self) -> tuple[Plan, ...]:
        """Return the plan in force of every part."""
        with self.store.reading() as shelf:
            plans = [plan_in_force(shelf, part) for part in shelf.parts()]
        return tuple(plan for plan in plans if plan is not None)

    def machines(self, part: str) -> tuple[str, ...]:
        """Return the machines of a part: those of its plan, then others it was made on."""
        with self.store.reading() as shelf:
            plan, state = known_plan(shelf, part), present_state(shelf, part)
        named = [machine.id for machine in plan.machines]
        return (*named, *sorted(set(state.machines) - set(named)))

    def operator_view(self, part: str, machine: str, at: datetime | None = None) -> OperatorView:
        """Return what the hourly-check page shows before a value is typed."""
        with self.store.reading() as shelf:
            return operator_view(shelf, part, machine, at or self.now())

    def histories(
        self,
        part: str,
        machine: str,
        *,
        from_time: datetime | None = None,
        to_time: datetime | None = None,
        newest: int | None = NEWEST_CHECKS,
    ) -> tuple[CharacteristicHistory, ...]:
        """Return the history of every gauged characteristic, ready to draw."""
        with self.store.reading() as shelf:
            plan = known_plan(shelf, part)
            return characteristic_histories(
                shelf, plan, machine, from_time=from_time, to_time=to_time, newest=newest
            )

    def review(
        self,
        part: str,
        machine: str,
        from_time: datetime | None = None,
        to_time: datetime | None = None,
        shift: str | None = None,
        at: datetime | None = None,
    ) -> Review:
        """Return the shift and capability review of a part on one machine."""
        with self.store.reading() as shelf:
            plan = known_plan(shelf, part)
            return review(
                shelf,
                plan,
                machine,
                from_time=from_time,
                to_time=to_time,
                shift=shift,
                at=at or self.now(),
            )

    def compare(
        self,
        part: str,
        machine: str | None,
        characteristic: str,
        by: ComparedBy,
        from_time: datetime | None = None,
        to_time: datetime | None = None,
    ) -> Comparison:
        """Compare shifts, machines, die sets, bar batches or people; without a machine, on all of them."""
        with self.store.reading() as shelf:
            return compare(shelf, known_plan(shelf, part), machine, characteristic, by, from_time, to_time)

    def die_board(self) -> tuple[DieBoardRow, ...]:
        """Return every machine with the die set on it, who must act first in front."""
        with self.store.reading() as shelf:
            return die_board(shelf, self.now())

    def wear_story(self, part: str, machine: str) -> WearStory | None:
        """Return the way of the set that is on to its likeliest end; None where none is in sight."""
        with self.store.reading() as shelf:
            return wear_story(shelf, part, machine)

    def close(self) -> None:
        """Close the record."""
        self.store.close()
