"""For the die board: growth beside earlier sets, and when to change the dies, in the shop's words."""

from datetime import datetime

from spc.pages.words import signed
from spc.shop import ChangeRule, WearRate
from spc.shop.two_digits import two_digits
from spc.station.die_words import on_the_clock
from spc.station.views import ChangePlan, DieBoardRow, EarlierGrowth, Wait

__all__ = ["change_words", "growth_words", "no_advice_words"]

_RULES = {"measured_wear": "by its own wear", "planned_age": "by planned age"}


def growth_words(rate: WearRate, earlier: EarlierGrowth | None) -> str:
    """Say how fast the size grows, and how fast it grew on earlier sets of the part.

    Examples
    --------
    >>> growth_words(WearRate(1.42, 1.18, 1.66), EarlierGrowth(0.9, 1.6, 5))
    '1.4 µm per 1,000 pieces (1.2 to 1.7); 5 earlier sets 0.9 to 1.6 on average'
    """
    says = f"{signed(rate.estimate)} µm per 1,000 pieces ({signed(rate.low90)} to {signed(rate.high90)})"
    if earlier is None:
        return f"{says}; no earlier set to compare with"
    if earlier.sets == 1:
        return f"{says}; the earlier set {signed(earlier.low)} on average"
    return f"{says}; {earlier.sets} earlier sets {signed(earlier.low)} to {signed(earlier.high)} on average"


def no_advice_words(row: DieBoardRow) -> list[str]:
    """Say why there is no advice on money."""
    if not row.has_costs:
        return ["the plan of this part names no costs of a die change, so only the pieces left can be shown"]
    if row.finished_sets == 0:
        return ["no set of this part has come to its end yet, so no change can be weighed"]
    return ["not enough is known at the moment to weigh a change"]


def change_words(row: DieBoardRow) -> list[str]:
    """Say when a change is cheapest, which rule comes first, and what waiting costs: a few sentences."""
    change = row.change
    if change is None or row.last_check is None:
        return no_advice_words(row)
    advised = next(each for each in change.advice.rules if each.rule == change.advice.by)
    says = [_advice(advised, change, row.zone, row.last_check)]
    pairs = zip(change.advice.rules, change.when, strict=True)
    others = [(rule, when) for rule, when in pairs if rule.rule != advised.rule]
    says += [
        _beside(rule, advised, (when, row.last_check), row.zone, change.currency) for rule, when in others
    ]
    says += [_waiting(each, row.zone, row.last_check, change.currency) for each in change.waits]
    return says


def _advice(rule: ChangeRule, change: ChangePlan, zone: str, since: datetime) -> str:
    cost = f"{_money(rule.cost_per_piece, change.currency)} a piece over the life of the set"
    if rule.pieces is None or change.at is None:
        return f"run to the end, {_RULES[rule.rule]}: no earlier change is cheaper ({cost})"
    if rule.pieces == 0:
        return f"now, {_RULES[rule.rule]} ({cost})"
    at = on_the_clock(change.at, zone, since)
    if change.is_past:
        return f"due since {at} if the machine ran on, {_RULES[rule.rule]}: make a check ({cost})"
    return f"within {two_digits(rule.pieces)} pieces, by {at}, {_RULES[rule.rule]}: cheapest, {cost}"


def _beside(
    rule: ChangeRule, advised: ChangeRule, times: tuple[datetime | None, datetime], zone: str, currency: str
) -> str:
    """Say the other rule, and whether it comes earlier."""
    when, since = times
    named = _RULES[rule.rule]
    if rule.rule == "planned_age" and rule.age is not None:
        low = "" if rule.age_low90 is None else f" ({two_digits(rule.age_low90)} to "
        high = "no planned age)" if rule.age_high90 is None else f"{two_digits(rule.age_high90)})"
        named += f" {two_digits(rule.age)} pieces{low}{high if low else ''}"
    cost = _more(rule.costs_more, currency)
    if rule.pieces is None or when is None:
        return f"{named}: run to the end; {cost}"
    if rule.pieces == 0:
        return f"{named}: earlier, the set is past it; {cost}"
    order = "earlier" if advised.pieces is None or rule.pieces < advised.pieces else "later"
    at = on_the_clock(when, zone, since)
    return f"{named}: {order}, in {two_digits(rule.pieces)} pieces, {at}; {cost}"


def _waiting(wait: Wait, zone: str, since: datetime, currency: str) -> str:
    amount = _more(wait.costs_more, currency)
    risk = 100.0 * wait.chance_of_end
    chance = "less than 1" if risk < 1.0 else two_digits(risk)
    return (
        f"waiting until {wait.until} at {on_the_clock(wait.at, zone, since)} costs {amount}; "
        f"{chance} in 100 sets end before"
    )


def _more(amount: float, currency: str) -> str:
    if amount < 0.5:
        return "next to nothing more"
    return f"about {f'{two_digits(amount)} {currency}'.strip()} more"


def _money(amount: float, currency: str) -> str:
    return f"{f'{amount:#.2g}'.rstrip('.')} {currency}".strip()
