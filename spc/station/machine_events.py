"""What an event at the machine does to the state, the dies staying on: slide, bar batches, masters, settings, stops."""

from datetime import timedelta
from decimal import Decimal

from spc.shop import EventLogged
from spc.shop.changed import changed
from spc.shop.names import setting_words, shop_name
from spc.station.counter_doubt import event_count
from spc.station.event_counter import counter_so_far, minutes_so_far
from spc.station.misread import without_misread
from spc.station.priors import prior_of
from spc.station.state import MachineState, News, StreamState
from spc.station.state_with import with_beliefs, with_machine, with_news
from spc.wear import WearBelief, change_batch, open_shift
from spc.wear.belief import OFFSET

__all__ = ["batch", "mastered", "noted", "penetration", "setting", "stopped"]

_COLD_MINUTES = 20.0
"""Stops from which a machine starts from cold (common practice, no source)."""
_LARGEST_JUMP_MM = 0.25
"""A slide moves hundredths of a millimetre within a mounting: more is a slip of the fingers (common practice)."""


def penetration(state: StreamState, event: EventLogged) -> StreamState:
    """The slide stands at a new setting, deeper is larger; one that no slide makes is kept out of the model."""
    machine, setting = state.machine(event.machine), Decimal(event.value)
    doubt = _setting_doubt(state, event, machine, setting)
    moved = machine.setting_mm is not None and setting != machine.setting_mm and not doubt
    machine = changed(machine, doubted_setting=doubt, setting_mm=machine.setting_mm if doubt else setting)
    if moved:
        counter, since = _counter_at(machine, event)
        first = machine.first_pieces_since or event.time
        machine = changed(machine, moved_at=counter, move_minutes=since, first_pieces_since=first)
    return with_machine(state, event.machine, machine)


def _setting_doubt(state: StreamState, event: EventLogged, machine: MachineState, setting: Decimal) -> str:
    """Say why a logged setting is hard to believe; "" before the first check of a mounting.

    The same setting logged a second time is taken: somebody looked at the panel again and stands for it.
    """
    die_set = state.mounted(event.machine)
    if die_set is None or die_set.zero_mm is None or machine.setting_mm is None:
        return ""
    travel = 0.0 if state.plan is None else state.plan.correction_travel_mm or 0.0
    jump = abs(setting - machine.setting_mm)
    logged_again = machine.doubted_setting.startswith(f"the slide was logged at {setting},")
    if logged_again or float(jump) <= max(_LARGEST_JUMP_MM, 5.0 * travel):
        return ""
    return f"the slide was logged at {setting}, {jump} mm away from {machine.setting_mm}"


def batch(state: StreamState, event: EventLogged) -> StreamState:
    """A new bar batch: the passing shift of every size on the mounted set is unknown again."""
    machine = changed(state.machine(event.machine), batch=event.value)
    state = with_machine(state, event.machine, machine)
    state = with_news(state, event, News("batch", f"new bar batch {event.value}", event.time))
    return with_beliefs(
        state, event.machine, "", lambda of, name, belief: _fresh_batch(of, event.machine, name, belief)
    )


def _fresh_batch(state: StreamState, machine_id: str, name: str, belief: WearBelief) -> WearBelief:
    prior = prior_of(state, name, machine_id)
    return belief if prior is None else change_batch(belief, prior)


def mastered(state: StreamState, event: EventLogged) -> StreamState:
    """A gauge was set on its master: readings change by what it was off, the other way."""
    off_um, machine = float(event.value), state.machine(event.machine)
    named = _gauge_of(state, event.note)
    gauge = f"the gauge for {shop_name(named)}" if named else f"the gauge {event.note}".rstrip()
    says = f"{gauge} set on its master, {off_um:+.1f} µm off"
    news = News("gauge_zero", says, event.time, named, -off_um, machine.mastered.get(named))
    machine = changed(machine, mastered={**machine.mastered, named: event.time})
    state = with_news(with_machine(state, event.machine, machine), event, news)
    before = without_misread(state, event.machine, named, off_um)
    if before is not None:
        return before
    set_anew = _gauge_set_anew if named else _gauge_of_somewhat_set_anew
    return with_beliefs(state, event.machine, named, lambda _, __, belief: set_anew(belief, off_um))


def _gauge_of(state: StreamState, note: str) -> str:
    """Name the characteristic that a mastered gauge reads, as the plan or the floor calls it; "" where none is."""
    gauged = () if state.plan is None else state.plan.gauged
    said = shop_name(note.casefold())
    return next(
        (each.name for each in gauged if said in (each.name.casefold(), shop_name(each.name).casefold())), ""
    )


def _gauge_set_anew(belief: WearBelief, off_um: float) -> WearBelief:
    """Readings go the other way by what the gauge was off, give or take a quarter of it."""
    mean = (belief.mean[OFFSET] - off_um, *belief.mean[OFFSET + 1 :])
    return open_shift(changed(belief, mean=mean), (off_um / 4.0) ** 2)


def _gauge_of_somewhat_set_anew(belief: WearBelief, off_um: float) -> WearBelief:
    """Nobody said which characteristic the gauge reads: any of them may move by so much."""
    return open_shift(belief, off_um**2)


def setting(state: StreamState, event: EventLogged) -> StreamState:
    """Another setting than the slide was changed."""
    machine = state.machine(event.machine)
    first = changed(machine, first_pieces_since=machine.first_pieces_since or event.time)
    state = with_machine(state, event.machine, first)
    return with_news(state, event, News("setting", setting_words(event.note, event.value), event.time))


def noted(state: StreamState, event: EventLogged) -> StreamState:
    """Somebody wrote something down: it changes nothing, and is quoted where a jump wants an explanation."""
    text = " ".join(each for each in (event.value, event.note) if each)
    return with_news(state, event, News("note", text, event.time)) if text else state


def stopped(state: StreamState, event: EventLogged) -> StreamState:
    """A stop suspends the check clock; after a long one the machine starts from cold."""
    minutes = float(event.value)
    machine = state.machine(event.machine)
    stopped = changed(machine, stopped_minutes=machine.stopped_minutes + minutes)
    ends = event.time + timedelta(minutes=minutes)
    if minutes >= _COLD_MINUTES:
        counter, since = _counter_at(machine, event)
        stopped = changed(stopped, started_at=counter, start_minutes=since)
    if machine.stop_ends is None or ends > machine.stop_ends:
        stopped = changed(stopped, stop_ends=ends)
    state = with_machine(state, event.machine, stopped)
    return with_news(state, event, News("stop", f"a stop of {minutes:.0f} min", event.time))


def _counter_at(machine: MachineState, event: EventLogged) -> tuple[int | None, float | None]:
    """Counter at an event; without one in the log, as the pace has it and with the minutes that will settle it."""
    counter = event_count(machine, event)
    if counter is not None:
        return counter, None
    return counter_so_far(machine, event.time), minutes_so_far(machine, event.time)
