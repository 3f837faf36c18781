"""Settings, regrinds, designs, gauges, the master and wear in comparisons: hand-made days whose answer is known."""

from datetime import UTC, datetime, timedelta

import pytest
from scipy.stats import f_oneway

from spc.station import Comparison, Station, open_station

FIRST = datetime(2026, 3, 2, 6, tzinfo=UTC)
PLAN = """
[part]
id = "P-1"
[plant]
zone = "UTC"
shifts = ["06:00", "18:00"]
[[machine]]
id = "R1"
[[machine]]
id = "R2"
[check]
subgroup_size = 2
interval_minutes = 60
[[characteristic]]
name = "size"
kind = "over_pin_diameter"
unit = "mm"
nominal = 20.000
lower = 19.900
upper = 20.100
"""
WEARS = 'set_by = "penetration"\npenetration_gain = 0.8\nlimits = "with_die_wear"\n'
STEPS = (0.0, 0.4, -0.4)


def opened(plan: str = PLAN) -> Station:
    station = open_station(":memory:", now=lambda: FIRST + timedelta(days=60))
    station.take_plan(plan)
    return station


def log(station: Station, hour: float, event: str, value: str, note: str = "", machine: str = "R1") -> None:
    time = (FIRST + timedelta(hours=hour)).isoformat()
    station.log(
        {"time": time, "machine": machine, "part": "P-1", "event": event, "value": value, "note": note}
    )


def check(
    station: Station, hour: float, size_um: float, machine: str = "R1", counter: int | None = None
) -> None:
    values = {"size": [f"{20 + (size_um + each) / 1000:.5f}" for each in (0.5, -0.5)]}
    time = (FIRST + timedelta(hours=hour)).isoformat()
    more = {} if counter is None else {"counter": counter}
    station.check_in({"time": time, "machine": machine, "part": "P-1", "values": values, **more})


def shift_of_checks(station: Station, start: int, size_um: float, machine: str = "R1") -> None:
    for number, step in enumerate(STEPS):
        check(station, start + 1 + number, size_um + step, machine)


def wobble(number: int) -> float:
    """What one shift differs from the next by chance, the same for every group."""
    return 0.5 * ((number % 3) - 1)


def test_settings_are_found_by_name_and_compared_by_value() -> None:
    station = opened()
    for day in range(6):
        dwell = "1.40" if day < 3 else "1.6"
        log(station, 24 * day, "setting", dwell, "dwell_s")
        log(station, 24 * day, "setting", "60", "speed_rpm")
        shift_of_checks(station, 24 * day, wobble(day) + (3.0 if day >= 3 else 0.0))
    review = station.review("P-1", "R1")
    assert review.compared is not None
    assert review.compared.can_be_asked[-2:] == ("setting:dwell_s", "setting:speed_rpm")
    found = station.compare("P-1", "R1", "size", "setting:dwell_s")
    assert found.groups == (("1.4", 3, 9), ("1.6", 3, 9))
    assert found.says.startswith("Dwell 1.6 s is 3.0 µm higher than dwell 1.4 s, 95 % interval")
    alone = station.compare("P-1", "R1", "size", "setting:speed_rpm")
    assert alone.says.startswith("Nothing to compare yet: two values of speed with hourly checks")


def test_one_shift_worked_as_one_value_agrees_with_a_general_library() -> None:
    """Equal checks a shift: the nested test is the plain analysis of variance of the shifts' means."""
    station = opened()
    means: dict[str, list[float]] = {"06:00": [], "18:00": []}
    for number in range(8):
        size = wobble(number) * 2 + (1.5 if number % 2 else 0.0)
        shift_of_checks(station, 12 * number, size)
        means["18:00" if number % 2 else "06:00"].append(size)
    found = station.compare("P-1", "R1", "size", "shift").found
    plain = f_oneway(*means.values())
    assert found is not None
    assert (found.f, found.p) == pytest.approx((plain.statistic, plain.pvalue), rel=1e-6)


def sets(station: Station, designs: tuple[str, ...] = ("", "", "", "")) -> None:
    """Four die sets for a day each, then each reground and on again 2 µm lower."""
    for turn in range(8):
        name, again = f"D-{turn % 4 + 1}", turn >= 4
        if again:
            log(station, 24 * turn - 1, "die_set_reground", name)
        log(station, 24 * turn, "die_set_mounted", name, designs[turn % 4])
        size = wobble(turn % 4) - (2.0 if again else 0.0) + (4.0 if designs[turn % 4].endswith("B") else 0.0)
        shift_of_checks(station, 24 * turn, size)
        shift_of_checks(station, 24 * turn + 12, size)
        log(station, 24 * turn + 23, "die_set_removed", "planned")


def test_regrinds_count_die_lives_and_not_shifts() -> None:
    station = opened()
    sets(station)
    found = station.compare("P-1", None, "size", "regrind")
    assert found.groups == (("0", 4, 24), ("1", 4, 24))
    assert found.says.startswith(
        "A new set is 2.0 µm higher than a set after its first regrind, 95 % interval"
    )
    assert "(4 and 4 die lives)" in found.says
    assert "in 8 die lives" in found.basis


def test_designs_go_by_the_note_of_the_mounting_or_are_asked_for() -> None:
    station = opened()
    sets(station, ("new, design A", "design: B", "Design A", "design B"))
    found = station.compare("P-1", None, "size", "die_design")
    assert [(name, checks) for name, _, checks in found.groups] == [("A", 24), ("B", 24)]
    assert found.says.startswith("Die design B is")
    silent = opened()
    sets(silent)
    assert (
        "write “design” and its name into the note" in silent.compare("P-1", None, "size", "die_design").says
    )


def test_gauges_go_by_the_note_on_the_master_or_are_asked_for() -> None:
    station = opened()
    for number in range(8):
        gauge = "G-2" if number % 2 else "G-1"
        log(station, 12 * number, "gauge_mastered", "0.1", f"size {gauge}")
        shift_of_checks(station, 12 * number, wobble(number // 2) + (2.0 if number % 2 else 0.0))
    found = station.compare("P-1", "R1", "size", "gauge")
    assert found.groups == (("G-1", 4, 12), ("G-2", 4, 12))
    assert found.says.startswith("Gauge G-2 is 2.0 µm higher than gauge G-1")
    silent = opened()
    log(silent, 0, "gauge_mastered", "0.1", "size")
    shift_of_checks(silent, 0, 0.0)
    says = silent.compare("P-1", "R1", "size", "gauge").says
    assert "Which gauge was used is not in the record".lower() in says.lower()
    assert "write the gauge's number into the note" in says


def nights(off_um: float, plan: str = PLAN) -> Comparison:
    """Night 1.8 µm higher; the gauge is set on its master at the end of each shift, after night so much off."""
    station = opened(plan)
    for number in range(12):
        night = number % 2 == 1
        shift_of_checks(station, 12 * number, wobble(number // 2) + (1.8 if night else 0.0))
        log(station, 12 * number + 11, "gauge_mastered", f"{off_um if night else 0.0:.1f}", "size")
    return station.compare("P-1", "R1", "size", "shift")


def test_the_master_points_at_the_gauge() -> None:
    found = nights(1.6)
    assert found.says.startswith(
        "The shift from 18:00 is 1.8 µm higher than the shift from 06:00, 95 % interval"
    )
    assert found.says.endswith(
        "; the same master measured by both differs by 1.6, so look at the gauge first."
    )
    assert found.mastered == (("06:00", 6, 0.0), ("18:00", 6, pytest.approx(1.6)))
    assert nights(0.1).says.endswith("differs by 0.1, so the gauge does not explain it.")


def test_what_the_next_shift_finds_on_the_master_speaks_of_the_shift_before() -> None:
    station = opened()
    for number in range(12):
        night = number % 2 == 1
        log(station, 12 * number, "gauge_mastered", "0.0" if night else "1.6", "size")
        shift_of_checks(station, 12 * number, wobble(number // 2) + (1.8 if night else 0.0))
    assert station.compare("P-1", "R1", "size", "shift").says.endswith("so look at the gauge first.")


def worn(night_um: float, *, followed: bool) -> Comparison:
    """A die grows 0.5 µm a check; every night the setter goes 5 µm deeper, or nobody moves the slide."""
    station = opened(PLAN + WEARS)
    log(station, -1, "die_set_mounted", "D-1")
    log(station, -1, "penetration", "10.000")
    setting, counter = 10.0, 0
    for number in range(16):
        night = number % 2 == 1
        if night and followed:
            setting += 0.005
            log(station, 12 * number + 0.5, "penetration", f"{setting:.3f}")
        for place in range(3):
            counter += 30
            grown = 0.5 * counter / 30 - 800.0 * (setting - 10.0)
            chance = (0.3, -0.3, 0.1, -0.1)[(number // 2) % 4] + STEPS[(place + number // 2) % 3] / 2
            check(
                station,
                12 * number + 1 + place,
                grown + chance + (night_um if night else 0.0),
                counter=counter,
            )
    return station.compare("P-1", "R1", "size", "shift")


@pytest.mark.parametrize("followed", [True, False])
def test_shifts_are_compared_beside_wear_and_slide_moves(followed: bool) -> None:
    same, higher = worn(0.0, followed=followed), worn(2.0, followed=followed)
    assert same.beside_wear
    assert same.says.startswith("No difference between")
    assert higher.found is not None
    assert higher.found.pairs[0].difference - same.found.pairs[0].difference == pytest.approx(2.0, abs=0.35)  # type: ignore[union-attr]  # both were compared
    assert higher.says.startswith("The shift from 18:00 is")
    assert "slide moves and the growth of each die life taken out" in higher.basis


def test_many_mountings_never_put_the_dies_into_the_shifts() -> None:
    """The set comes off for another part and returns: each mounting starts where its setter left it.

    One slope and a level for each of 9 mountings are spent: of the 14 by which 16 shifts worked tell chance, 9 go,
    which is more than half, and still the shifts are told beside the lines alone.
    """
    mounted = (0, 2, 3, 5, 7, 10, 11, 13, 14)
    station = opened(PLAN + WEARS)
    counter = age = 0
    log(station, -1, "penetration", "10.000")
    for number in range(16):
        if number in mounted:
            counter = 0
            log(station, 12 * number + 0.1, "die_set_mounted", "D-1")
        for place in range(3):
            counter, age = counter + 30, age + 30
            began = 7.0 * (sum(number >= each for each in mounted) % 3 - 1)
            chance = wobble(number) / 5 + STEPS[(place + number) % 3] / 5
            size = began + age / 60 + chance + (2.0 if number % 2 else 0.0)
            check(station, 12 * number + 1 + place, size, counter=counter)
    compared = station.compare("P-1", "R1", "size", "shift")
    assert compared.beside_wear
    assert "growth of each die life taken out" in compared.basis
    assert compared.found is not None
    assert compared.found.pairs[0].difference == pytest.approx(2.0, abs=0.35)


def test_machines_are_compared_as_gauged_although_dies_wear() -> None:
    station = opened(PLAN + WEARS)
    for number in range(6):
        for machine, higher in (("R1", 0.0), ("R2", 3.0)):
            shift_of_checks(station, 12 * number, wobble(number) + higher, machine)
    found = station.compare("P-1", None, "size", "machine")
    assert not found.beside_wear
    assert "as gauged and delivered, wear and slide moves included" in found.basis
    assert "R2 is 3.0 µm higher than R1" in found.says


def test_a_review_holds_shifts_and_machines_against_chance_together() -> None:
    station = opened()
    for number in range(12):
        night = 1.8 if number % 2 else 0.0
        shift_of_checks(station, 12 * number, wobble(number // 2) + night)
        shift_of_checks(station, 12 * number, wobble(number // 2) + night, "R2")
    compared = station.review("P-1", "R1").compared
    assert compared is not None
    assert [each.by for each in compared.made] == ["shift", "machine"]
    assert compared.says == (
        "2 comparisons were made; more than noise: size between shifts, all of them held against chance together "
        "(Holm, 5 %)."
    )
    assert compared.chances[0] == pytest.approx(2 * compared.made[0].chance)


def test_a_review_with_too_few_checks_compares_nothing_and_quiet_days_are_noise() -> None:
    few = opened()
    for hour in (1, 13, 25, 37):
        check(few, hour, 0.1 * hour)
    compared = few.review("P-1", "R1").compared
    assert compared is not None
    assert (compared.made, compared.says) == ((), "")
    quiet = opened()
    for number in range(12):
        shift_of_checks(quiet, 12 * number, wobble(number // 2))
    compared = quiet.review("P-1", "R1").compared
    assert compared is not None
    assert compared.says == "One comparison was made; nothing here is more than noise (5 %)."
