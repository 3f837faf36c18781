"""Shifts and machines compared, on paper: one sentence each, what stands behind it, and what is only chance."""

from typing import Any, Final

from spc.reports.words import named, safe
from spc.shop.names import shop_name
from spc.station import Review
from spc.station.compare_records import Comparison
from spc.station.compare_words import group_said

__all__ = ["COMPARED_HEADS", "comparison_part", "comparison_plain", "comparison_rows"]

COMPARED_HEADS: Final = [
    "machine", "characteristic", "by", "first", "second", "second minus first", "unit", "low", "high", "level",
    "p, all pairs counted", "p, all comparisons counted", "first: checks", "second: checks",
    "first: independent checks", "second: independent checks", "on the master, second minus first",
    "says", "what was compared",
]  # fmt: skip
_TITLES: Final = {"shift": "Shifts", "machine": "Machines"}


def comparison_part(review: Review) -> str:
    """Return the comparisons as HTML: what counts first, then each in a sentence; "" where there are none."""
    compared = review.compared
    if compared is None or not compared.made:
        return ""
    told = "".join(_told(each, review) for each in compared.made)
    return f"<h2>Shifts and machines compared</h2><p>{safe(compared.says)}</p>{told}"


def comparison_rows(review: Review) -> list[list[Any]]:
    """Return one row a pair of groups for the workbook, in the order of names."""
    if review.compared is None:
        return []
    return [
        row
        for each, p in zip(review.compared.made, review.compared.chances, strict=True)
        for row in _rows(each, p, review)
    ]


def comparison_plain(review: Review) -> dict[str, Any]:
    """Return the comparisons for JSON."""
    if review.compared is None:
        return {"says": "", "made": []}
    made = zip(review.compared.made, review.compared.chances, strict=True)
    return {"says": review.compared.says, "made": [_plain(each, p) for each, p in made]}


def _told(one: Comparison, review: Review) -> str:
    over = " of all machines of the part" if one.by == "machine" else f" on {review.machine}"
    head = f"<h3>{_TITLES[one.by]}{safe(over)}: {safe(named(one.characteristic))}</h3>"
    small = f'<p class="small quiet">{safe(" ".join(each for each in (one.basis, one.remark) if each))}</p>'
    return f"{head}<p>{safe(one.says)}</p>{small}"


def _rows(one: Comparison, p: float, review: Review) -> list[list[Any]]:
    found = one.found
    if found is None:
        return []
    masters = {(first, second): each.difference for first, second, each in found.master}
    return [
        [
            review.machine, shop_name(one.characteristic.name), one.by, *(one.groups[each][0] for each in places),
            pair.difference, found.unit, pair.low, pair.high, pair.level, pair.p, p,
            *(one.groups[each][2] for each in places), *(one.worth[each] for each in places),
            masters.get(places), one.says, one.basis,
        ]
        for pair in found.pairs
        for places in [(pair.first, pair.second)]
    ]  # fmt: skip


def _plain(one: Comparison, p: float) -> dict[str, Any]:
    found = one.found
    masters = {} if found is None else {(first, second): each for first, second, each in found.master}
    return {
        "characteristic": one.characteristic.name,
        "by": one.by,
        "machine": one.machine,
        "groups": _groups(one),
        "beside_wear": one.beside_wear,
        "unit": "" if found is None else found.unit,
        "pairs": []
        if found is None
        else [
            {
                "first": one.groups[pair.first][0],
                "second": one.groups[pair.second][0],
                "difference": pair.difference,
                "low": pair.low,
                "high": pair.high,
                "level": pair.level,
                "p": pair.p,
                "method": pair.method,
                "on_the_master": _master(masters.get((pair.first, pair.second))),
            }
            for pair in found.pairs
        ],
        "p_among_all": p,
        "says": one.says,
        "basis": one.basis,
        "remark": one.remark,
        "left_out": one.left_out,
    }


def _groups(one: Comparison) -> list[dict[str, Any]]:
    return [
        {
            "group": name,
            "called": group_said(one.by, name),
            "units": units,
            "checks": checks,
            "independent_checks": worth,
        }
        for (name, units, checks), worth in zip(one.groups, one.worth, strict=True)
    ]


def _master(found: Any) -> dict[str, float] | None:
    return None if found is None else {"difference": found.difference, "low": found.low, "high": found.high}
