"""The sizes page: the figures of the geometry room in words, and its refusals beside the fields."""

import base64
import json
import re
from collections.abc import Callable

import pytest
from small_shop import words, write
from streamlit.testing.v1 import AppTest

from spc.geometry import InvoluteTeeth, over_pins, thickness_uncertainty
from spc.pages.sizes_fields import with_header
from spc.pages.sizes_slide import change_words

RunPage = Callable[[str], AppTest]
SIZES = "sizes:sizes_page"


def choose(page: AppTest, key: str, option: str) -> AppTest:
    """Press one of the buttons of a choice."""
    group = next(each for each in page.button_group if each.key == f"sizes {key}")
    page = group.set_value(option).run()
    assert not page.exception
    return page


def fill(page: AppTest, **fields: str) -> AppTest:
    for label, text in fields.items():
        write(page, label, text)
    page.run()
    assert not page.exception
    return page


def drawing(page: AppTest) -> str:
    said = "".join(str(each.proto.body) for each in page.get("html"))
    found = re.search(r"data:image/svg\+xml;base64,([A-Za-z0-9+/=]+)", said)
    assert found is not None
    return base64.b64decode(found[1]).decode()


def test_a_thickness_gives_the_size_over_pins(run_page: RunPage) -> None:
    """KHK gear technical reference (from memory), spur example: 22.2941 over 1.7 pins."""
    page = fill(
        run_page(SIZES),
        **{"Module, mm": "1", "Teeth": "20", "Pressure angle, °": "20", "Pins, mm": "1,7"},
        **{"Tooth thickness, mm": "1.570796"},
    )
    says = words(page)
    assert "22.2941 mm" in says
    assert "1.724 mm touches in the middle of the flank" in says
    assert "22.2941 mm over the pins" in drawing(page)


def test_a_reading_gives_the_thickness_and_how_sure_it_is(run_page: RunPage) -> None:
    page = choose(run_page(SIZES), "pins known", "size over pins")
    page = fill(
        page,
        **{"Module, mm": "1", "Teeth": "21", "Over pins, mm": "23.900", "Pins, mm": "1.92"},
        **{"Reading sure to ±, µm": "3", "Pins sure to ±, µm": "1"},
    )
    says = words(page)
    assert "1.5668 mm" in says  # geometry reference P15, calculated there by contact
    teeth = InvoluteTeeth(1.0, 21, 30.0)
    sure = thickness_uncertainty(teeth, over_pins(teeth, 1.56677715, 1.92), reading_um=3.0, pin_um=1.0)
    assert f"± {sure.total_um:.1f} µm of thickness" in says


def test_what_is_geometrically_wrong_is_one_paragraph(run_page: RunPage) -> None:
    page = fill(run_page(SIZES), **{"Pins, mm": "0.4"})
    said = [str(each.proto.body) for each in page.get("html") if "spc-cannot" in str(each.proto.body)]
    assert len(said) == 1
    assert "pin" in said[0]
    page = fill(page, **{"Module, mm": "one", "Teeth": "", "Pins, mm": "2.4"})
    says = words(page)
    assert "a number holds no letters" in says
    assert "Teeth: the value is missing" in says


def test_a_thread_and_what_its_lead_adds(run_page: RunPage) -> None:
    page = choose(run_page(SIZES), "kind", "Over wires")
    page = fill(
        page, **{"Pitch, mm": "1.5", "Pitch diameter, mm": "9.026", "Wires, mm (empty: best)": "0.866025"}
    )
    says = words(page)
    assert "10.3250 mm without the lead" in says  # textbook formula, ASME B1.2 (from memory)
    assert "correction of 1.8 µm" in says
    page = fill(page, Starts="6")
    assert "only the exact size holds" in words(page)


def test_wires_below_the_crests_are_refused_where_the_outside_is_known(run_page: RunPage) -> None:
    page = choose(run_page(SIZES), "kind", "Over wires")
    page = fill(page, **{"Wires, mm (empty: best)": "0.89", "Outside diameter, mm (if known)": "16"})
    assert "would touch the crests (16 mm)" in words(page)
    page = fill(page, **{"Wires, mm (empty: best)": "1.2"})
    assert "would touch" not in words(page)


def test_a_worm_by_its_module(run_page: RunPage) -> None:
    page = choose(run_page(SIZES), "kind", "Over wires")
    page = choose(page, "wires form", "worm")
    page = fill(
        page,
        **{"Axial module, mm": "2", "Starts": "1", "Reference diameter, mm": "31"},
        **{"Wires, mm (empty: best)": "3.3", "Thickness along the axis, mm (empty: half the pitch)": ""},
    )
    says = words(page)
    assert "35.3343 mm" in says  # KHK gear technical reference (from memory), worm over wires, simple 35.3173
    assert "lead angle 3.69°" in says


def test_a_pasted_trace_is_judged_by_the_standard_named(run_page: RunPage) -> None:
    page = choose(run_page(SIZES), "kind", "Travel of a screw")
    page.text_area[0].set_value("0 0\n100 2\n200 5\n300 4\n400 8\n500 9\n600 14")
    page = fill(page, **{"Lead, mm (if any)": ""})
    says = words(page)
    assert "+12.6 µm" in says  # geometry reference, data L1
    assert "3.7 µm" in says
    assert "C3" in says
    assert "Mean travel deviation 12.64 µm, allowed ±9 µm" in says
    chart = json.loads(page.get("vega_lite_chart")[0].proto.spec)
    assert "7 readings" in chart["description"]
    page.text_area[0].set_value("0 0\n100 2\n100 5")
    page.run()
    assert "The position repeats after point 2 of the trace" in words(page)


def test_a_changing_lead_is_judged_against_its_table(run_page: RunPage) -> None:
    page = choose(run_page(SIZES), "kind", "Groove of changing lead")
    assert "11.35 turns" in drawing(page)
    assert "µm too shallow" in words(page)
    page.text_area[0].set_value("position_mm;lead_mm\n0;12\n60;12\n120;20\n180;28")
    page.run()
    assert not page.exception
    assert "Depth is judged where both tables" in words(page)
    page = fill(page, **{"Outside diameter, mm": "0"})
    assert "a part has a diameter" in words(page)


def test_a_profile_and_its_zone(run_page: RunPage) -> None:
    page = choose(run_page(SIZES), "kind", "Straightness")
    page.text_area[0].set_value("position_mm,height_um\n0,0\n50,6\n100,8\n150,6\n200,0.8")
    page.run()
    says = words(page)
    assert "7.60 µm" in says  # geometry reference, data S3: 38/5
    assert "7.68 µm" in says


def test_what_was_typed_comes_back_from_another_part(run_page: RunPage) -> None:
    page = fill(run_page(SIZES), Teeth="24")
    page = choose(page, "kind", "Straightness")
    page = choose(page, "kind", "Over pins")
    assert next(each.value for each in page.text_input if each.label == "Teeth") == "24"


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("0;1,5\n10;2,5", "a;b"),
        ("0,1.5\n10,2.5", "a,b"),
        ("0\t1.5\n10\t2.5", "a\tb"),
        ("0  1,5\n10  2,5", "a\tb"),
        ("b;a\n0;1", "b;a"),
    ],
)
def test_a_table_pasted_without_its_header_gets_one(text: str, first: str) -> None:
    assert with_header(text, ("a", "b")).splitlines()[0] == first


def test_a_change_keeps_its_direction() -> None:
    assert change_words(-0.04) == "no change"
    assert change_words(-8.9) == "8.9 µm less"
