"""What goes wrong between the gauge and the paper: a decimal slip, two digits swapped."""

from dataclasses import replace

from spc.simulator.cell import Feature, Story
from spc.simulator.running import Running

__all__ = ["decimal_slip", "digits_swapped", "mistyped"]


def decimal_slip(value: str) -> str:
    """Type the point one place too far to the right.

    Examples
    --------
    >>> decimal_slip("44.263")
    '442.63'
    """
    whole, _, decimals = value.partition(".")
    return f"{whole}{decimals[0]}.{decimals[1:]}"


def digits_swapped(value: str) -> str:
    """Swap the second and third decimal.

    Examples
    --------
    >>> digits_swapped("27.4635")
    '27.4365'
    """
    whole, _, decimals = value.partition(".")
    return f"{whole}.{decimals[0]}{decimals[2]}{decimals[1]}{decimals[3:]}"


def mistyped(run: Running, feature: Feature, purpose: str, values: list[str]) -> list[str]:
    """Return the values as typed; a planted mistake strikes the first hourly check after its time."""
    if purpose != "hourly" or not run.mistakes:
        return values
    for story in run.mistakes:
        if story.characteristic == feature.name and story.part == run.part.id:
            run.mistakes.remove(story)
            return _strike(run, story, values)
    return values


def _strike(run: Running, story: Story, values: list[str]) -> list[str]:
    mistake = decimal_slip if story.sizes["mistake"] == "decimal_slip" else digits_swapped
    typed = [mistake(value) for value in values]
    worst = max(range(len(values)), key=lambda place: abs(float(typed[place]) - float(values[place])))
    told = {**story.sizes, "piece": worst + 1, "gauge_showed_mm": values[worst], "typed_mm": typed[worst]}
    run.stories.append(replace(story, begin=run.now, end=run.now, sizes=told))
    return [typed[place] if place == worst else value for place, value in enumerate(values)]
