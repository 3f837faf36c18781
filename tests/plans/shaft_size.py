"""Text that the plans of the invented shafts share: the hourly check, and a size over pins that the slide sets."""

HOURLY = """\
[check]
subgroup_size = 5
interval_minutes = 60
"""
OVER_PIN_SIZE = """\
[[characteristic]]
name = "over_pin"
kind = "over_pin_diameter"
unit = "mm"
nominal = 31.250
lower = 31.232
upper = 31.268
set_by = "penetration"
penetration_gain = 0.80
"""
"""Left open at its end: what a plan writes below it still belongs to this size."""
