"""A check whose values come from traces: kept, chained, judged as typed, replayed, never doubled."""

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from traced_plan import L1, TRAVELS

from spc.errors import Refused
from spc.intake import read_plan, value_from_trace
from spc.shop import CheckGauged
from spc.station import Station, open_station
from spc.station.kept import fact_of, text_of
from spc.station.refold import present_state
from spc.store import verify

SAME = {"trace": L1, "name": "lead.csv"}


@pytest.fixture
def station(tmp_path: Path) -> Station:
    found = open_station(tmp_path / "record.sqlite")
    found.take_plan(TRAVELS)
    return found


def check(hour: int, **values: Any) -> dict[str, Any]:
    return {"time": f"2026-03-01T{hour:02d}:10", "machine": "R9", "part": "P-91", "values": values}


def kept(station: Station, check_id: int | None) -> CheckGauged:
    with station.store.reading() as shelf:
        stored = shelf.fact(check_id or 0)
    assert stored is not None
    fact = fact_of(stored)
    assert isinstance(fact, CheckGauged)
    return fact


def test_a_trace_is_judged_like_the_value_typed_by_hand(station: Station, tmp_path: Path) -> None:
    by_hand = open_station(tmp_path / "hand.sqlite")
    by_hand.take_plan(TRAVELS)
    for hour in range(6):
        trace = [[x, e * (1 + hour % 3)] for x, e in L1]
        plan = read_plan(TRAVELS)
        points = [(Decimal(x), Decimal(e)) for x, e in trace]
        typed = {each.name: f"{value_from_trace(points, each):f}" for each in plan.gauged}
        traced = station.check_in(check(hour, lead={"trace": trace}, wobble=[{"trace": trace}]))
        assert traced.to_dict() == by_hand.check_in(check(hour, **typed)).to_dict()
    by_hand.close()


def test_the_trace_is_kept_once_and_gives_its_values_again(station: Station) -> None:
    verdict = station.check_in(check(8, lead=[SAME], wobble=[SAME]))
    fact = kept(station, verdict.check_id)
    (trace,) = fact.traces
    assert trace.gives == ("lead", "wobble")
    assert trace.says == "from trace lead.csv, 7 points"
    for reading in fact.readings:
        characteristic = read_plan(TRAVELS).characteristic(reading.characteristic)
        assert value_from_trace(trace.points, characteristic) == reading.value
    assert verify(station.store).intact


def test_a_program_takes_a_check_that_was_written_as_json(station: Station) -> None:
    verdict = station.check_in(json.loads(json.dumps(check(8, lead=[SAME]))))
    group = verdict.subgroup("lead")
    assert group is not None
    assert group.mean == pytest.approx(12.64)


def test_a_check_outside_is_held(station: Station) -> None:
    verdict = station.check_in(check(8, lead={"trace": [[x, 3 * e] for x, e in L1]}))
    assert verdict.verdict == "hold"


def test_refusals_are_collected_and_nothing_is_kept(station: Station) -> None:
    back = {"trace": [[0, 0], [20, 1], [10, 2]], "name": "back.csv"}
    with pytest.raises(Refused) as refused:
        station.check_in(check(8, lead=[back], wobble=["abc"]))
    said = str(refused.value)
    assert "lead, piece 1" in said
    assert "back.csv: the position goes back after point 2 of the trace" in said
    assert "wobble, piece 1" in said
    with station.store.reading() as shelf:
        assert [each.kind for each in shelf.facts("P-91")] == ["plan"]


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"trace": "0 1 2"}, "this is no trace"),
        ({"trace": [[0, 0], [1]]}, "point 2 of the trace is no pair"),
        ({"trace": [[0, 0], [1, "x"]]}, "point 2 of the trace: a number holds no letters"),
        ({"trace": L1, "colour": "red"}, "a trace has no such key"),
        ({"trace": L1, "value": "5"}, "the trace gives 12.64 um here"),
    ],
)
def test_a_trace_of_another_form_is_refused(station: Station, given: dict[str, Any], says: str) -> None:
    with pytest.raises(Refused, match=says):
        station.check_in(check(8, lead=[given]))


def test_the_same_check_again_is_already_in_and_a_trace_may_follow_its_value(station: Station) -> None:
    typed = station.check_in(check(8, lead=["12.64"]))
    again = station.check_in(check(8, lead=[SAME]))
    assert again.check_id == typed.check_id
    assert station.check_in(check(8, lead=[SAME])).check_id == typed.check_id
    with station.store.reading() as shelf:
        checks = [fact_of(each) for each in shelf.facts("P-91") if each.kind == "check"]
    assert [len(each.traces) for each in checks if isinstance(each, CheckGauged)] == [0, 1]
    with pytest.raises(Refused, match="already taken with another value"):
        station.check_in(check(8, lead=[{"trace": [[x, 2 * e] for x, e in L1]}]))


@pytest.mark.parametrize("drop_every", [1, 2, 100])
def test_live_and_folded_again_are_one(station: Station, tmp_path: Path, drop_every: int) -> None:
    """Whatever checkpoints were dropped on the way, verdicts and state come out the same to the last bit."""
    other = open_station(tmp_path / "other.sqlite")
    other.take_plan(TRAVELS)
    for hour in range(6):
        if hour % drop_every == 0:
            other.store.drop_checkpoints()
        traced = check(hour, lead=[{"trace": [[x, e * (1 + hour % 2)] for x, e in L1]}], wobble=[SAME])
        assert station.check_in(traced).to_dict() == other.check_in(traced).to_dict()
    with station.store.reading() as shelf, other.store.reading() as other_shelf:
        assert text_of(present_state(shelf, "P-91")) == text_of(present_state(other_shelf, "P-91"))
    other.close()
