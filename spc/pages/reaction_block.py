"""The reaction on the verdict: which list comes first, numbered steps, what to look for, the caution that belongs."""

from typing import Final

from spc.pages.look import safe
from spc.pages.tell import HANDS_IN, PANEL
from spc.shop import Reaction

__all__ = ["folded_reaction", "reaction_html"]

_HEADS: Final = {"stop": "Stop first", "gauge": "Gauge first"}
_CAUTIONS: Final = {"hands": HANDS_IN, "panel": PANEL}
"""The one on gauging stands under the grid of the same page already."""


def reaction_html(reaction: Reaction | None) -> str:
    """Show the operator what to do in order; "" where nothing stands against the check."""
    if reaction is None:
        return ""
    gauges = reaction.first == "stop" or "gauging" in reaction.cautions
    head = f"{_HEADS[reaction.first]}<span>{safe(reaction.pattern)}</span>"
    head = head if gauges else safe(reaction.pattern[:1].upper() + reaction.pattern[1:])
    steps = "".join(f"<li>{safe(each)}</li>" for each in reaction.steps)
    look = safe(" · ".join(reaction.causes))
    cautions = "".join(
        f'<p class="spc-caution"><b>{safe(title)}.</b> {safe(says)}</p>'
        for title, says in (_CAUTIONS[each] for each in reaction.cautions if each in _CAUTIONS)
    )
    return (
        f'<div class="reaction {reaction.first}"><p class="head">{head}</p><ol>{steps}</ol>'
        f'<p class="look"><span>Look for, in this order:</span> {look}</p>{cautions}</div>'
    )


def folded_reaction(reaction: Reaction | None) -> str:
    """Keep the same at hand, folded away, under the line of the last check."""
    if reaction is None:
        return ""
    return f"<details><summary>What to do, in order</summary>{reaction_html(reaction)}</details>"
