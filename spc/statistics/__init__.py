"""Chance: constants, control limits, run rules, run lengths, capability. One method, one file."""
