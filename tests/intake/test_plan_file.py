"""Plans: read exactly, and refused with key, line and what is allowed, all mistakes at once."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from intake_samples import PLAN

from spc.errors import Refusal, Refused
from spc.intake import read_plan, read_plans
from spc.shop import ToleranceLimits


def refusals_of(text: str) -> tuple[Refusal, ...]:
    with pytest.raises(Refused) as refused:
        read_plan(text)
    return refused.value.refusals


def line_of(text: str, start: str, nth: int = 0) -> int:
    return [number for number, line in enumerate(text.splitlines(), 1) if line.startswith(start)][nth]


def test_a_plan_is_read_exactly() -> None:
    plan = read_plan(PLAN)
    over_pin = plan.characteristic("over_pin")
    assert (plan.part, plan.zone, plan.shifts) == ("P-31", "Europe/Berlin", ("06:00", "14:00", "22:00"))
    assert [machine.id for machine in plan.machines] == ["R1", "R2"]
    assert plan.correction_travel_mm == 0.060
    assert over_pin.tolerance == ToleranceLimits(Decimal("31.232"), Decimal("31.268"))
    assert (over_pin.nominal, over_pin.target) == (Decimal("31.250"), Decimal("31.249"))
    assert over_pin.wears_with_die
    assert over_pin.line == line_of(PLAN, "[[characteristic]]")
    assert not plan.characteristic("lead_error").wears_with_die
    assert plan.characteristic("lead_error").at == ("first_off", "shift")
    assert plan.characteristic("runout").tolerance == ToleranceLimits(None, Decimal(25))
    assert plan.characteristic("look").answers[0] == "ok"
    assert (plan.text, plan.removal_words) == (PLAN, ("crane_damage",))


def test_defaults_are_utc_and_three_shifts() -> None:
    plan = read_plan(PLAN.replace('zone = "Europe/Berlin"\n', ""))
    assert (plan.zone, plan.shifts) == ("UTC", ("06:00", "14:00", "22:00"))


def changed(old: str, new: str) -> str:
    assert old in PLAN
    return PLAN.replace(old, new, 1)


@pytest.mark.parametrize(
    ("old", "new", "start", "reason", "allowed"),
    [
        ("lower = 31.232", "lowr = 31.232", "lowr", "no key 'lowr'", "lower"),
        ("lower = 31.232", "lower = 31.3", "lower = 31.3", "above the upper", "lower at most upper"),
        ('unit = "mm"', 'unit = "cm"', 'unit = "cm"', "no unit", "mm, um, in, deg"),
        ('kind = "runout"', 'kind = "run_out"', 'kind = "run_out"', "no kind", "straightness, runout"),
        ("lower = -0.014\n", "", "[[characteristic]]", "wants both limits", "lower and upper"),
        ("nominal = 31.250", 'nominal = "31.250"', "nominal", "a number is needed", "without quotation"),
        ("nominal = 31.250", "nominal = nan", "nominal", "no number", "finite"),
        ("nominal = 31.250\n", "", "[[characteristic]]", "nominal is missing", "drawing"),
        ('id = "P-31"\n', "", "[part]", "text is needed", "quotation marks"),
        ('name = "lead_error"', 'name = "over_pin"', 'name = "over_pin"', "have one name", "own"),
        ("Europe/Berlin", "Europe/Berlim", "zone", "time zone is not known", "Europe/Berlin"),
        ('id = "R2"', 'id = "R1"', 'id = "R1"', "two machines", "own"),
        ('set_by = "penetration"', 'set_by = "penetrate"', "set_by", "does not know", "penetration, tilt"),
        ("target = 31.249", "target = 31.3", "target", "outside the limits", "between"),
        ("subgroup_size = 5", "subgroup_size = 0", "subgroup_size", "a count", "at least 1"),
        ("penetration_gain = 0.80", "penetration_gain = 0", "penetration_gain", "must move", "other than 0"),
        ('answers = ["ok", ', "answers = [", "answers", 'begin with "ok"', '["ok"'),
        ('name = "look"', 'name = "look"\nupper = 3', "upper = 3", "has no upper", "answers"),
        ('[plant]\n', '[plant]\nshifts = ["6h"]\n', "shifts", "time of day", "06:00"),
        ("[check]", "[check]\ndoubt_share = 2", "doubt_share", "share", "between 0 and 1"),
        ('"shift"]', '"shft"]', "at = ", "'shft'", "first_off"),
    ],
)  # fmt: skip
def test_each_mistake_names_key_line_and_what_is_allowed(old, new, start, reason, allowed) -> None:
    text = changed(old, new)
    found = refusals_of(text)
    assert len(found) == 1
    assert reason in found[0].reason
    assert allowed in found[0].allowed
    assert found[0].column
    lines = [number for number, line in enumerate(text.splitlines(), 1) if line.startswith(start)]
    assert found[0].row in lines


def test_a_typo_gets_the_nearest_key() -> None:
    assert refusals_of(changed("upper = 31.268", "uper = 31.268"))[0].do == "Perhaps upper is meant"


def test_all_mistakes_are_collected_in_order_of_lines() -> None:
    text = (
        changed("lower = 31.232", "lower = 32")
        .replace('unit = "um"', 'unit = "ym"')
        .replace("[die_set]", "[dies]")
    )
    found = refusals_of(text)
    assert [refusal.column for refusal in found] == ["dies", "characteristic.lower", "characteristic.unit"]
    assert [refusal.row for refusal in found] == sorted(refusal.row or 0 for refusal in found)


LATER = """
interval_pieces = 300
doubt_share = 0.02
order_kept = true
[[characteristic]]
name = "far"
kind = "diameter"
form = "left"
unit = "in"
nominal = 1.25
positions = ["A", "B"]
piece_value = "largest"
master_size = 1.2501
length = 2
expansion_per_k = 11.5e-6
result = "later"
at = "first_off"
[characteristic.spline]
teeth = 24
module = 1.25
[characteristic.limits]
centre = 1.2502
sigma_within = 0.0001
signed_by = "M. Quill"
signed_at = 2026-02-01T10:00:00
"""


def test_keys_of_later_work_are_taken() -> None:
    plan = read_plan(changed("interval_minutes = 60\n", "interval_minutes = 60" + LATER))
    far = plan.characteristic("far")
    assert (plan.check.interval_pieces, plan.doubt_share, plan.order_kept) == (300, 0.02, True)
    assert (far.form, far.positions, far.piece_value, far.later) == ("left", ("A", "B"), "largest", True)
    assert (far.master_size, far.at) == (Decimal("1.2501"), ("first_off",))
    assert far.signed is not None
    assert (far.signed.standing, far.signed.centre, far.signed.signed_by) == ("signed", 1.2502, "M. Quill")
    assert far.signed.signed_at is not None
    assert far.signed.signed_at.isoformat() == "2026-02-01T09:00:00+00:00"


def test_no_toml_says_the_line() -> None:
    found = refusals_of('[part]\nid = "P-31\n')
    assert (found[0].row, "not TOML" in found[0].reason) == (2, True)


def test_files_folders_and_twins(tmp_path: Path) -> None:
    (tmp_path / "plan-b.toml").write_text(PLAN.replace("P-31", "P-40"), encoding="utf-8")
    (tmp_path / "plan-a.toml").write_bytes(b"\xef\xbb\xbf" + PLAN.replace("\n", "\r\n").encode())
    (tmp_path / "other.toml").write_text("x = 1", encoding="utf-8")
    assert [plan.part for plan in read_plans([tmp_path])] == ["P-31", "P-40"]
    assert read_plan(str(tmp_path / "plan-a.toml")).source == "plan-a.toml"
    with pytest.raises(Refused, match=r"plan-a\.toml is already the plan of this part"):
        read_plans([tmp_path, tmp_path / "plan-a.toml"])
    with pytest.raises(Refused, match="holds no plan"):
        read_plans([tmp_path / "plan-a.toml", make_folder(tmp_path)])
    with pytest.raises(Refused, match="cannot be opened"):
        read_plans([tmp_path / "absent.toml"])


def make_folder(tmp_path: Path) -> Path:
    folder = tmp_path / "empty"
    folder.mkdir()
    return folder


def test_mistakes_of_several_plans_are_told_together(tmp_path: Path) -> None:
    for name in ("plan-a.toml", "plan-b.toml"):
        (tmp_path / name).write_text(changed("lower = 31.232", "lowr = 31.232"), encoding="utf-8")
    with pytest.raises(Refused) as refused:
        read_plans([tmp_path])
    assert [refusal.file for refusal in refused.value.refusals] == ["plan-a.toml", "plan-b.toml"]


@given(st.data())
def test_a_broken_plan_is_refused_or_read_never_a_crash(data: st.DataObject) -> None:
    lines = PLAN.splitlines()
    place = data.draw(st.integers(0, len(lines) - 1))
    lines[place] = data.draw(
        st.one_of(st.text(max_size=20), st.sampled_from(["part = 3", "check = []", "[[plant]]"]))
    )
    found = outcome("\n".join(lines))
    assert all(refusal.reason and refusal.file for refusal in found)


def outcome(text: str) -> tuple[Refusal, ...]:
    """Return the refusals of a plan, none where it is read."""
    try:
        read_plan(text)
    except Refused as refused:
        return refused.refusals
    return ()
