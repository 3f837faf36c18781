"""Every query goes by an index, so that a check costs the same in year ten."""

from made_facts import at, check, event, plan
from sqlalchemy import event as engine_event

from spc.store import Position


def test_no_query_walks_a_table(file_store) -> None:
    with file_store.writing() as desk:
        facts = desk.append([plan(-1), check(0), event(0)])
    asked = []
    with file_store.connection() as connection:
        engine = connection.engine
    engine_event.listen(engine, "before_cursor_execute", lambda *args: asked.append((args[2], args[3])))
    place = Position(at(0), 0, 0)
    with file_store.writing("P-31", ["R1", "R2"]) as desk:
        desk.facts("P-31", ["R1", "R2"], after=place, until=facts[-1].position, kinds=["check", "event"])
        desk.facts_at("P-31", "R1", at(0))
        desk.checks_between("P-31", None, at(0), at(1))
        desk.checks_between("P-31", "R1", at(0), at(1))
        desk.fact(1)
        desk.annulments("P-31")
        desk.parts()
        desk.latest_plan("P-31")
        desk.verdicts("P-31", newest=5)
        desk.verdicts("P-31", "R1", at(0), at(1), superseded=True)
        desk.standing_verdicts([1, 2])
        desk.append([check(1)])
        desk.save_checkpoint("P-31", facts[1].position, "s", "1")
        desk.save_checkpoint("P-31", facts[2].position, "s", "1")
        desk.checkpoint("P-31", before=facts[2].position)
        desk.drop_checkpoints_from("P-31", facts[2].position)
        desk.draft("x")
    with file_store.connection() as connection:
        plans = {
            statement: connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", parameters).all()
            for statement, parameters in asked
            if statement.startswith(("SELECT", "DELETE"))
        }
    assert len(plans) > 15
    walks = [said for said, steps in plans.items() if any("SCAN" in step for *_, step in steps)]
    assert [said for said in walks if "ORDER BY facts.id DESC" not in said] == []  # the last row, by its id
