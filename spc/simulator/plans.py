"""The plan of a part as the shop would keep it: TOML in the station's layout."""

from collections.abc import Iterator

from spc.simulator.cell import Feature, Machine, Part, Shop

__all__ = ["plan_text"]


def plan_text(shop: Shop, part: Part) -> str:
    """Write the plan of one part.

    Parameters
    ----------
    shop : Shop
        Gives zone, shifts, interval and the machine.
    part : Part
        One of its parts.

    Returns
    -------
    str
        TOML, lines ended by newline, with only the machine the part may run on.
    """
    machine = next(machine for machine in shop.machines if machine.id == part.machine)
    shifts, breaks = (", ".join(f'"{start}"' for start in starts) for starts in (shop.shifts, shop.breaks))
    blocks = [
        ["[part]", f'id = "{part.id}"', f'description = "{part.description}"'],
        [
            "[plant]",
            f'zone = "{shop.zone}"',
            f"shifts = [{shifts}]",
            *([f"breaks = [{breaks}]"] if breaks else []),
        ],
        list(_machine_lines(machine)),
        ["[die_set]", f"correction_travel = {part.correction_travel_mm:.3f}"],
        ["[check]", "subgroup_size = 5", f"interval_minutes = {shop.interval_minutes}"],
        *([list(_cost_lines(part.costs))] if part.costs else []),
        *[list(_feature_lines(feature)) for feature in part.features],
    ]
    return "\n\n".join("\n".join(block) for block in blocks) + "\n"


def _machine_lines(machine: Machine) -> Iterator[str]:
    yield "[[machine]]"
    yield f'id = "{machine.id}"'
    yield f"slide_step_mm = {machine.slide_step_mm:.3f}"
    yield f'slides = "{machine.slides}"'
    yield f'display = "{machine.display}"'
    yield f"largest_move_mm = {machine.largest_move_mm:.3f}"


def _cost_lines(costs: tuple[int, ...]) -> Iterator[str]:
    yield "[costs]"
    names = ("planned_die_change", "unplanned_die_change", "scrap_per_piece", "spoilt_pieces")
    for name, amount in zip(names, costs, strict=True):
        yield f"{name} = {amount}"
    yield 'currency = "EUR"'


def _feature_lines(feature: Feature) -> Iterator[str]:
    yield "[[characteristic]]"
    yield f'name = "{feature.name}"'
    yield f'kind = "{feature.kind}"'
    if feature.form:
        yield f'form = "{feature.form}"'
    if feature.nature != "look":
        yield from _length_lines(feature)
    if feature.nature == "size":
        yield 'set_by = "penetration"'
        if not feature.tables:
            yield f"penetration_gain = {feature.gain_guess:.2f}"
        yield 'limits = "with_die_wear"'
    elif feature.set_by:
        yield f'set_by = "{feature.set_by}"'
    if feature.minimum_cpk is not None:
        yield f"minimum_cpk = {feature.minimum_cpk:.2f}"
    if feature.wears_with_die is not None:
        yield f"wears_with_die = {str(feature.wears_with_die).lower()}"
    if feature.pieces != 5:
        yield f"subgroup_size = {feature.pieces}"
    if feature.at:
        yield "at = [" + ", ".join(f'"{when}"' for when in feature.at) + "]"
    if feature.later:
        yield 'result = "later"'
    if feature.answers:
        yield "answers = [" + ", ".join(f'"{answer}"' for answer in feature.answers) + "]"
    yield from feature.tables


def _length_lines(feature: Feature) -> Iterator[str]:
    decimals = 1 if feature.unit in ("um", "deg") else 4 if feature.resolution_um < 1.0 else 3
    yield f'unit = "{feature.unit}"'
    keys = ("nominal", "lower", "upper", "target", "master_size")
    for key in keys:
        value = getattr(feature, key)
        if value is not None:
            yield f"{key} = {value:.{decimals}f}"
