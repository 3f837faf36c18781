"""Each planted story can be found in the demo files by plain arithmetic that knows nothing of the simulator."""

from itertools import pairwise
from statistics import fmean, variance

GAIN_UM = 900.0
"""µm of size per mm of slide, about; from the plan of KS-24."""


def hourly(checks, part, begin, end, purposes=("hourly",)):
    return [
        fmean(check["um"])
        for time, check in sorted(checks[part].items())
        if begin <= time < end and check["purpose"] in purposes
    ]


def moves(events, machine, begin, end):
    """Slide moves in mm, mountings left out."""
    found, setting = [], 0.0
    for row in events:
        if row["event"] == "penetration" and row["machine"] == machine:
            if not row["note"] and begin <= row["time"] < end:
                found.append((row["time"], float(row["value"]) - setting))
            setting = float(row["value"])
    return found


def test_ten_letters_are_told(truth):
    assert {entry["story"] for entry in truth["stories"]} == set("ABCDEFGHIJ")


def test_A_the_size_looks_flat_while_the_slide_hides_the_wear(checks, events, story):
    (told,) = story("A")
    means = hourly(checks, "KS-24", told["from"], told["to"])
    slid = sum(move for _, move in moves(events, "R1", told["from"], told["to"]))
    assert abs(fmean(means[:8]) - fmean(means[-8:])) < 6.0
    assert GAIN_UM * slid > 20.0
    assert told["sizes"]["true_wear_um"] > 30.0


def test_B_a_step_more_runout_and_spacing_then_a_chip_mark(checks, readings, truth, story):
    (told,) = story("B")
    rows = [row for row in readings if row["part"] == "KS-24"]
    marks = [row["time"] for row in rows if row["value"] == "chip mark"]
    assert told["from"] < min(marks) <= told["to"]
    sizes = [
        row
        for row in truth["sizes"]
        if row[2] == "KS-24" and told["from"].isoformat() < row[0] < told["to"].isoformat()
    ]
    assert sizes[0][12] == told["sizes"]["step_um"]
    step = hourly(checks, "KS-24", told["from"], told["to"])[0] - fmean(
        hourly(checks, "KS-24", told["from"].replace(hour=15), told["from"])
    )
    assert abs(step - 3.0) < 3.0 * 1.4  # three standard errors of a mean of 5 against one of 10
    pitch = [float(row["value"]) for row in rows if row["characteristic"] == "pitch_error"]
    confirm = [
        float(row["value"])
        for row in rows
        if row["characteristic"] == "pitch_error" and row["purpose"] == "confirm"
    ]
    assert confirm[0] == max(pitch)


def test_C_the_hard_batch_steps_up_and_wears_faster(checks, events, truth, story):
    (told,) = story("C")
    log = [row for row in events if row["event"] == "blank_batch" and row["value"] == told["sizes"]["batch"]]
    assert log[0]["time"] == told["from"]
    before = hourly(checks, "SW-32", told["from"].replace(hour=14), told["from"])
    after = hourly(checks, "SW-32", told["from"], told["to"])
    assert 2.0 < after[0] - before[-1] < 7.5
    worn = [
        (row[5], row[9], row[10])
        for row in truth["sizes"]
        if row[2] == "SW-32" and row[0][:10] in ("2026-03-10", "2026-03-11")
    ]
    hard = worn[-1][2] if worn[-1][2] > 3.0 else max(batch for _, _, batch in worn)
    rates = {}
    for batch in {entry[2] for entry in worn}:
        own = [entry for entry in worn if entry[2] == batch]
        if own[-1][0] - own[0][0] > 900:
            rates[batch] = (own[-1][1] - own[0][1]) / (own[-1][0] - own[0][0])
    assert rates[hard] == max(rates.values())


def test_D_the_gauge_reads_high_until_the_master_shows_it(checks, events, story):
    (told,) = story("D")
    found = [
        float(row["value"])
        for row in events
        if row["event"] == "gauge_mastered" and row["machine"] == "R2" and row["time"] == told["to"]
    ]
    assert abs(found[0] - told["sizes"]["gauge_um"]) < 1.5
    before = hourly(checks, "KS-38", told["from"].replace(hour=7), told["from"])
    after = hourly(checks, "KS-38", told["from"], told["to"])
    assert 3.0 < after[0] - before[-1] < 9.0


def test_E_a_decimal_slip_and_a_digit_swap_stay_as_typed(readings, story):
    assert {told["sizes"]["mistake"] for told in story("E")} == {"decimal_slip", "digits_swapped"}
    for told in story("E"):
        typed, shown = told["sizes"]["typed_mm"], told["sizes"]["gauge_showed_mm"]
        kept = [
            row["value"]
            for row in readings
            if row["time"] == told["from"] and row["part"] == told["part"] and row["value"] == typed
        ]
        assert kept == [typed]
        if told["sizes"]["mistake"] == "decimal_slip":
            assert abs(float(typed) / float(shown) - 10.0) < 0.01
        else:
            assert sorted(typed) == sorted(shown)
            # swapped neighbours differ by 9 times a whole number of the lower digit
            assert round(abs(float(typed) - float(shown)) * 1e3) % 9 == 0


def test_F_the_night_shift_moves_back_and_forth(events, story):
    nights = story("F")
    assert len(nights) == 3
    for told in nights:
        chased = [move for _, move in moves(events, "R2", told["from"], told["to"])]
        assert len(chased) >= 4
        turns = sum(a * b < 0 for a, b in pairwise(chased))
        assert turns >= 2
    month = moves(events, "R2", nights[0]["from"].replace(day=1), nights[0]["from"].replace(day=31))
    in_nights = sum(any(told["from"] <= time < told["to"] for told in nights) for time, _ in month)
    assert in_nights / 24.0 > 3.0 * (len(month) - in_nights) / 456.0


def test_G_a_cold_start_comes_down_by_itself(checks, events, story):
    (told,) = story("G")
    first = hourly(checks, "SW-32", told["from"], told["to"], ("first_off",))[0]
    warm = hourly(checks, "SW-32", told["from"].replace(hour=7), told["from"].replace(hour=10))
    later = told["from"].replace(hour=9, minute=30)
    slid_um = GAIN_UM * sum(move for _, move in moves(events, "R1", told["from"], later))
    assert first - (warm[-1] + slid_um) > 2.0


def test_H_the_spread_widens_while_the_dwell_is_short(checks, events, story):
    (told,) = story("H")
    changed = [
        row["time"]
        for row in events
        if row["event"] == "setting" and row["machine"] == "R2" and row["value"] == "0.7"
    ]
    assert changed == [told["from"]]

    def spread(begin, end):
        return fmean(
            variance(check["um"])
            for time, check in checks["KS-38"].items()
            if begin <= time < end and check["purpose"] == "hourly"
        )

    usual = spread(told["from"].replace(day=18), told["from"])
    assert spread(told["from"], told["to"]) / usual > 1.5


def test_I_a_step_that_nobody_answers_for_three_hours(checks, events, story):
    (told,) = story("I")
    before = hourly(checks, "BG-21", told["from"].replace(day=18, hour=23), told["from"])
    during = hourly(checks, "BG-21", told["from"], told["to"])
    after = hourly(checks, "BG-21", told["to"], told["to"].replace(hour=9))
    assert len(during) >= 3
    assert min(during) - fmean(before) > 4.0
    assert fmean(during) - fmean(after) > 4.0
    answered = [
        row["time"] for row in events if row["machine"] == "R3" and row["event"] in ("penetration", "note")
    ]
    assert not [time for time in answered if told["from"] <= time < told["to"]]
    assert told["to"] in answered


def test_J_a_week_in_which_nothing_happens(checks, readings, events, truth, story):
    (told,) = story("J")
    assert (told["to"] - told["from"]).days == 5
    others = [entry for entry in truth["stories"] if entry["machine"] == "R3" and entry["story"] != "J"]
    week = (told["from"].isoformat(), told["to"].isoformat())
    assert not [entry for entry in others if week[0] <= entry["from"] < week[1]]
    inside = [row for row in events if row["machine"] == "R3" and told["from"] <= row["time"] < told["to"]]
    assert not [row for row in inside if row["event"].startswith("die_set")]
    assert max(abs(mean) for mean in hourly(checks, "BG-21", told["from"], told["to"])) < 8.0
    looks = {
        row["value"]
        for row in readings
        if row["part"] == "BG-21"
        and row["characteristic"] == "look"
        and told["from"] <= row["time"] < told["to"]
    }
    assert looks == {"ok"}
