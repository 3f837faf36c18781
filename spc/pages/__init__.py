"""Screens: ask, call one station verb, draw, tell."""
