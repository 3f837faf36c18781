"""A plan whose values are read from traces, and made-up traces of known answers."""

import math

TRAVELS = """
[part]
id = "P-91"
[plant]
zone = "UTC"
[[machine]]
id = "R9"
[check]
subgroup_size = 1
interval_minutes = 60
[[characteristic]]
name = "lead"
kind = "mean_travel_deviation"
unit = "um"
lower = -20
upper = 20
[[characteristic]]
name = "wobble"
kind = "travel_variation"
unit = "mm"
upper = 0.012
"""
PLAN = f"""{TRAVELS}[[characteristic]]
name = "bow"
kind = "straightness"
unit = "mm"
upper = 0.020
"""
L1 = [[100 * place, height] for place, height in enumerate((0, 2, 5, 4, 8, 9, 14))]
L4 = [[2.5 * k, 0.02 * 2.5 * k + 4 * math.sin(2 * math.pi * 2.5 * k / 10)] for k in range(241)]
L5 = [[100 * place, height] for place, height in enumerate((0, 1, 4, 6, 5, 3, 1, 0, 2, 5))]
PROFILE = [[0, 0], [1, 3], [2, 1], [3, 4], [4, 2]]


def with_rule(name: str, rule: str, plan: str = PLAN) -> str:
    """Add lines below a characteristic of the plan."""
    head, _, rest = plan.partition(f'name = "{name}"')
    body, mark, tail = rest.partition("[[characteristic]]")
    return f'{head}name = "{name}"{body}{rule}\n{mark}{tail}'
