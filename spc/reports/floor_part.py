"""What happened on the floor, on paper: looks, die sets, checks on hold with their answers, strike-outs, events."""

from collections import Counter

from spc.reports.table import table
from spc.reports.words import clock, one_or_many, safe
from spc.shop.names import shop_name
from spc.station import DieSetUse, Review

__all__ = ["floor_part"]

_LISTED = 36
_KINDS = {
    "penetration": ("slide move", "slide moves"),
    "blank_batch": ("new bar batch", "new bar batches"),
    "gauge_mastered": ("gauge set on its master", "times a gauge set on its master"),
    "machine_stopped": ("stop", "stops"),
    "order": ("order", "orders"),
    "setting": ("other setting", "other settings"),
    "die_set_mounted": ("die set mounted", "die sets mounted"),
    "die_set_removed": ("die set removed", "die sets removed"),
    "die_set_reground": ("die set reground", "die sets reground"),
}


def floor_part(review: Review) -> str:
    """Return what was looked at, mounted, held and logged as HTML."""
    return _looks(review) + _held(review) + _die_sets(review) + _struck(review) + _events(review)


def _looks(review: Review) -> str:
    if not review.looks:
        return ""
    rows = [
        [
            safe(shop_name(look.name)),
            f"{look.checks:,}",
            f"{look.pieces:,}",
            safe(
                ", ".join(
                    f"{answer} on {one_or_many(count, 'piece', 'pieces')}" for answer, count in look.finds
                )
            )
            or "nothing found",
        ]
        for look in review.looks
    ]
    return "<h2>Looked at</h2>" + table(["look", "checks", "pieces", "finds"], rows, numbers=[1, 2])


def _held(review: Review) -> str:
    if not review.held:
        return "<h2>Stop and hold</h2><p>No check said Stop and hold.</p>"
    rows = [
        [
            clock(each.time, review.plan.zone),
            safe(each.die_set or "–"),
            "–" if each.counter is None else f"{each.counter:,}",
            "<br>".join(safe(words) for words in each.says),
            "all since the last good check" if each.pieces_held is None else f"{each.pieces_held:,}",
            safe(f"{each.answer} ({each.answered_by})" if each.answered_by else each.answer)
            or "no answer yet",
        ]
        for each in review.held
    ]
    heads = ["check", "die set", "counter", "why", "pieces to hold back", "found and done"]
    return "<h2>Stop and hold</h2>" + table(heads, rows, numbers=[2, 4])


def _die_sets(review: Review) -> str:
    if not review.die_sets:
        return ""
    rows = [_die_row(each, review) for each in review.die_sets]
    heads = [
        "die set", "on", "off, and why", "checks", "age, pieces", "life, pieces", "limited by",
        "growth per 1,000 pieces at its last check (90 % interval)", "infeed used of allowed, mm",
    ]  # fmt: skip
    planned = f"<p>{safe(review.planned_age)}</p>" if review.planned_age else ""
    return "<h2>Die sets</h2>" + table(heads, rows, numbers=[3, 4, 5]) + planned


def _die_row(each: DieSetUse, review: Review) -> list[str]:
    zone = review.plan.zone
    wear, used = each.wear, each.infeed_used_mm
    off = (
        "on"
        if each.removed is None
        else f"{clock(each.removed, zone)}, {safe(each.removed_for.replace('_', ' '))}"
    )
    ages = (
        "–" if each.age_first is None or each.age_last is None else f"{each.age_first:,} to {each.age_last:,}"
    )
    allowed = "" if each.infeed_allowed_mm is None else f" of {each.infeed_allowed_mm:.3f}"
    return [
        safe(each.die_set or "not named"),
        clock(each.mounted, zone),
        off,
        f"{each.checks:,}",
        ages,
        f"{each.age_last:,}" if each.life_ended and each.age_last is not None else "–",
        safe(shop_name(each.limited_by)) or "–",
        "–" if wear is None else f"{wear.estimate:.1f} µm ({wear.low90:.1f} to {wear.high90:.1f})",
        "–" if used is None else f"{used:.3f}{allowed}",
    ]


def _struck(review: Review) -> str:
    if not review.struck_out:
        return ""
    rows = [
        [clock(time, review.plan.zone), safe(reason), safe(by) or "no name"]
        for time, reason, by in review.struck_out
    ]
    return "<h2>Struck out</h2>" + table(["check", "reason", "by"], rows)


def _events(review: Review) -> str:
    if not review.events:
        return ""
    kinds = Counter(each.kind for each in review.events)
    told = ", ".join(
        one_or_many(count, *_KINDS.get(kind, (kind.replace("_", " "), kind.replace("_", " "))))
        for kind, count in kinds.most_common()
    )
    head = f"<h2>Logged at the machine</h2><p>{safe(told)}.</p>"
    if len(review.events) > _LISTED:
        return head + '<p class="small quiet">The workbook of this review lists each one.</p>'
    rows = [
        [clock(each.time, review.plan.zone), safe(each.label), safe(each.note), safe(each.by)]
        for each in review.events
    ]
    return head + table(["when", "what", "note", "by"], rows)
