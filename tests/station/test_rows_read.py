"""A check costs the same on day one and in year ten: few rows are read whatever the age of the record."""

from datetime import timedelta

from feed import NOW, check_values, demo_facts, event_columns, plan_of, station

from spc.shop import CheckGauged, EventLogged

FACTS = 10_000
MOST_ROWS = 50


def test_with_ten_thousand_facts_one_check_in_reads_at_most_fifty_rows():
    plan = plan_of("BG-21")
    facts = demo_facts("BG-21", 60)
    last = next(fact for fact in reversed(facts) if isinstance(fact, CheckGauged))
    notes = tuple(
        EventLogged(facts[0].time + timedelta(seconds=n), "R3", "BG-21", "note", f"box {n}")
        for n in range(FACTS)
    )
    live = station()

    class History:
        checks = tuple(fact for fact in facts if isinstance(fact, CheckGauged) and fact is not last)
        events = (*(fact for fact in facts if isinstance(fact, EventLogged)), *notes)
        refusals = ()

    live.take_history([plan], History())
    with live.store.reading() as shelf:
        assert len(shelf.facts("BG-21")) > FACTS
    before = live.store.rows_read
    live.check_in(check_values(last, plan.zone))

    assert live.store.rows_read - before <= MOST_ROWS


def test_logging_a_slide_move_is_as_cheap():
    plan = plan_of("BG-21")
    live = station()
    live.take_plan(plan.text)
    for n in range(300):
        live.log(
            {
                "time": str(NOW + timedelta(minutes=n)),
                "machine": "R3",
                "part": "BG-21",
                "event": "note",
                "value": f"{n}",
            }
        )
    move = EventLogged(NOW + timedelta(hours=9), "R3", "BG-21", "penetration", "12.345")
    before = live.store.rows_read
    live.log(event_columns(move, plan.zone))

    assert live.store.rows_read - before <= MOST_ROWS
