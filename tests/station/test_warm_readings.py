"""Warm readings: what is kept, what judges, what is said; and the same live and in replay."""

from dataclasses import replace
from decimal import Decimal

import pytest
from feed import kept_lines, replayed, state_text
from shaft import PLAN, at, check, open_shop

from spc.errors import Refused
from spc.intake import read_history, read_plan
from spc.shop import CheckGauged
from spc.station.kept import fact_of

STEEL = "expansion_per_k = 11.5e-6\n"
GAIN = "penetration_gain = 0.80\n"
PIECES = ("31.2530", "31.2510", "31.2540", "31.2500", "31.2520")


def warm_shop(*more: str):
    return open_shop(GAIN, GAIN + STEEL + "".join(f"{each}\n" for each in more))


def gauged(station, hours=1.0, pieces=PIECES, **temperatures):
    return station.check_in(check(hours, pieces=pieces, counter=round(100 * hours), **temperatures))


def over_pin(verdict):
    return verdict.to_dict()["subgroups"]["over_pin"]


def test_both_temperatures_known_take_the_warmth_off_the_mean():
    """L [α_p (T_p − 20) − α_m (T_m − 20)], geometry.md section 6 (after a national laboratory's FAQ; α from memory)."""
    line = over_pin(gauged(warm_shop(), temperature_c="31", master_temperature_c="22"))
    taken_off_um = 31.252e3 * 11.5e-6 * (31 - 22)  # 3.2 µm by hand
    assert line["temperature_correction_um"] == pytest.approx(taken_off_um, abs=0.001)
    assert line["mean_as_gauged"] == 31.252
    assert line["mean"] == pytest.approx(31.252 - taken_off_um / 1000, abs=1e-6)
    assert line["temperature_says"] == "part 31 °C, master 22 °C: 3.2 µm taken off"
    assert "temperature_notice" not in line  # below a tenth of 36 µm
    assert 0 < line["temperature_uncertainty_um"] < 1


@pytest.mark.parametrize(
    ("size", "part_c", "taken_off_um"),
    [("45.244", "35", 7.8046), ("300.000", "28", 27.6), ("1000.000", "21", 11.5), ("21.000", "45", 6.0375)],
)
def test_published_cases_through_a_check(size, part_c, taken_off_um):
    """geometry.md section 6, calculated there with α 11.5e-6 and a master at 20 °C; half a unit of the last digit."""
    station = warm_shop_of(size)
    verdict = station.check_in(
        check(1, pieces=[size] * 5, counter=100, temperature_c=part_c, master_temperature_c="20")
    )
    digits = len(str(taken_off_um).partition(".")[2])
    found = over_pin(verdict)["temperature_correction_um"]
    assert found == pytest.approx(taken_off_um, abs=0.5 * 10.0**-digits)


def warm_shop_of(size):
    lower, upper = (f"{Decimal(size) + each:f}" for each in (Decimal("-0.050"), Decimal("0.018")))
    old = "nominal = 31.250\nlower = 31.232\nupper = 31.268\n"
    return open_shop(old, f"nominal = {size}\nlower = {lower}\nupper = {upper}\n{STEEL}")


def test_the_corrected_value_judges_and_the_gauged_one_stays():
    warm = {"temperature_c": "45", "master_temperature_c": "20"}
    high = ("31.2700", "31.2690", "31.2710", "31.2695", "31.2705")
    station = warm_shop()
    verdict = gauged(station, pieces=high, **warm)
    assert verdict.verdict != "hold"
    with station.store.reading() as shelf:
        kept = fact_of(shelf.fact(verdict.check_id))
    assert isinstance(kept, CheckGauged)
    assert [each.text for each in kept.readings if each.characteristic == "over_pin"] == list(high)
    assert gauged(warm_shop(), pieces=high).verdict == "hold"  # the same texts from parts at 20 °C


def test_a_warm_check_carries_a_notice_and_raises_no_alarm():
    verdict = gauged(warm_shop(), temperature_c="36", master_temperature_c="22")
    notice = over_pin(verdict)["temperature_notice"]
    assert notice.startswith("gauged warm: warmth made 5.0 µm of a tolerance of 36 µm, known to ±")
    assert verdict.verdict == "run"


@pytest.mark.parametrize(
    ("known", "says"),
    [
        ({"temperature_c": "31"}, "part 31 °C: not corrected, the temperature of the master is not known"),
        (
            {"master_temperature_c": "22"},
            "master 22 °C: not corrected, the temperature of the part is not known",
        ),
    ],
)
def test_one_temperature_alone_corrects_nothing_and_is_said(known, says):
    line = over_pin(gauged(warm_shop(), **known))
    assert line["mean"] == line["mean_as_gauged"] == 31.252
    assert "temperature_correction_um" not in line
    assert line["temperature_says"] == says
    assert line["temperature_notice"].startswith("not corrected to 20 °C")


def test_a_master_as_warm_as_the_part_makes_the_reading_right_by_itself():
    line = over_pin(gauged(warm_shop("master_as_warm_as_part = true"), temperature_c="31"))
    assert line["mean"] == 31.252
    assert line["temperature_correction_um"] == 0
    assert line["temperature_says"] == "part 31 °C, master 31 °C: nothing to take off"


def test_a_master_of_other_steel_leaves_the_difference():
    other = warm_shop("master_as_warm_as_part = true", "master_expansion_per_k = 5.5e-6")
    line = over_pin(gauged(other, temperature_c="30"))
    assert line["temperature_correction_um"] == pytest.approx(31.252e3 * 6e-6 * 10, abs=0.001)


def test_without_an_expansion_in_the_plan_nothing_changes():
    warm = gauged(open_shop(), temperature_c="45", master_temperature_c="20").to_dict()
    assert warm == gauged(open_shop()).to_dict()


def test_form_is_never_corrected_and_a_deviation_by_its_length():
    bow = 'kind = "straightness"\n'
    station = open_shop(bow, bow + STEEL)
    verdict = station.check_in(
        check(
            1, counter=100, values={"bow": ["0.020", "0.022"]}, temperature_c="45", master_temperature_c="20"
        )
    )
    assert verdict.to_dict()["subgroups"]["bow"]["mean"] == pytest.approx(0.021)
    lead = 'kind = "lead_deviation"\nlower = -0.050\nlength = 300\n'
    station = open_shop(bow, lead + STEEL)
    verdict = station.check_in(
        check(
            1, counter=100, values={"bow": ["0.020", "0.022"]}, temperature_c="28", master_temperature_c="20"
        )
    )
    assert verdict.to_dict()["subgroups"]["bow"]["temperature_correction_um"] == pytest.approx(27.6, abs=0.05)
    station = open_shop(bow, lead.replace("length = 300\n", "") + STEEL)
    verdict = station.check_in(
        check(
            1, counter=100, values={"bow": ["0.020", "0.022"]}, temperature_c="28", master_temperature_c="20"
        )
    )
    says = verdict.to_dict()["subgroups"]["bow"]["temperature_says"]
    assert says.endswith("not corrected, the plan gives no length for this deviation")


ROWS = "time,machine,part,characteristic,piece,value,counter,temperature_c,master_temperature_c\n"


def warm_rows() -> str:
    """A day of checks in which some temperatures are known, one of them hard to believe."""
    rows = ROWS
    for hour in range(1, 25):
        for piece, value in enumerate(PIECES, start=1):
            part_c = ("", "26.4", "31.7", "500")[hour % 4] if piece < 5 else ""
            rows += f"{at(hour)},M1,T-9,over_pin,{piece},{Decimal(value) + hour % 3 * Decimal('0.001')},"
            rows += f"{100 * hour},{part_c},{'' if hour % 5 == 0 else '21.3'}\n"
    return rows


def test_live_is_the_replay_to_the_last_bit_where_some_temperatures_are_known(tmp_path):
    (tmp_path / "readings.csv").write_text(warm_rows(), encoding="utf-8")
    plan = read_plan(PLAN.replace(GAIN, GAIN + STEEL))
    history = read_history([plan], tmp_path / "readings.csv", None)
    facts = sorted(history.checks, key=lambda each: each.time)
    live = warm_shop()
    for number, fact in enumerate(facts):
        live.take_history([plan], replace(history, readings=replace(history.readings, checks=(fact,))))
        if number % 3 == 0:
            live.store.drop_checkpoints()
    lines, state = replayed(plan, facts)
    assert lines == kept_lines(live, "T-9")
    assert state == state_text(live, "T-9")
    said = {line["subgroups"]["over_pin"].get("temperature_says", "") for line in lines}
    assert any("hard to believe" in each for each in said)
    assert any("1 of 5 readings not corrected" in each for each in said)


def test_a_typed_temperature_that_no_part_has_is_refused():
    with pytest.raises(Refused, match="no part or master in the hand"):
        gauged(warm_shop(), temperature_c="310", master_temperature_c="22")


def test_an_expansion_that_no_steel_has_is_refused():
    with pytest.raises(Refused, match=r"11\.5e-6"):
        open_shop(GAIN, GAIN + "expansion_per_k = 11.5\n")
    with pytest.raises(Refused, match="expansion_per_k too"):
        open_shop(GAIN, GAIN + "master_as_warm_as_part = true\n")
