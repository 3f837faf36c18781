"""Names a row gives, looked up in the plans: part, machine, characteristic, purpose."""

from collections.abc import Collection, Sequence

from spc.intake.nearest import listed, nearest
from spc.intake.problem import Problem
from spc.shop.layouts import PURPOSES
from spc.shop.plan import Characteristic, Plan

__all__ = ["Named"]


class Named:
    """The names that the plans know.

    Parameters
    ----------
    plans : sequence of Plan
        One a part. Where any of them names machines, a machine that none names is refused.
    machines : collection of str
        Machines known from elsewhere.
    """

    def __init__(self, plans: Sequence[Plan], machines: Collection[str] = ()) -> None:
        self._plans = {plan.part: plan for plan in plans}
        self._machines = {machine.id for plan in plans for machine in plan.machines} | set(machines)

    def part(self, text: str) -> Plan | Problem:
        """Return the plan of a part."""
        plan = self._plans.get(text)
        if plan is not None:
            return plan
        reason = "no plan names this part" if text else "the part is missing"
        return Problem("part", text, reason, listed(self._plans), nearest(text, self._plans))

    def machine(self, text: str) -> Problem | None:
        """Say what is wrong with a machine's name."""
        if not text:
            reason = "the machine is missing"
        elif self._machines and text not in self._machines:
            reason = "no plan names this machine"
        else:
            return None
        allowed = listed(sorted(self._machines)) or "a machine's name"
        return Problem("machine", text, reason, allowed, nearest(text, self._machines))

    def zone(self, machine: str, plan: Plan | None = None) -> str:
        """Return the zone of a row: of its part, else of the first plan that names the machine."""
        if plan is not None:
            return plan.zone
        plans = list(self._plans.values())
        naming = [plan for plan in plans if any(each.id == machine for each in plan.machines)]
        return (naming or plans)[0].zone if plans else "UTC"

    def removal_words(self, plan: Plan | None) -> tuple[str, ...]:
        """Return the words a plan adds for a removal; of every plan where the part is not given."""
        plans = list(self._plans.values()) if plan is None else [plan]
        return tuple(dict.fromkeys(word for each in plans for word in each.removal_words))

    @staticmethod
    def characteristic(plan: Plan, text: str) -> Characteristic | Problem:
        """Return a characteristic of a plan."""
        names = {each.name: each for each in plan.characteristics}
        if text in names:
            return names[text]
        reason = f"the plan of {plan.part} has no such characteristic" if text else "it is missing"
        return Problem("characteristic", text, reason, listed(names), nearest(text, names))

    @staticmethod
    def purpose(text: str) -> str | Problem:
        """Return the purpose of a check, "" where none is given."""
        small = text.lower()
        if not small or small in PURPOSES:
            return small
        return Problem(
            "purpose", text, "no check has this purpose", listed(PURPOSES), nearest(text, PURPOSES)
        )
