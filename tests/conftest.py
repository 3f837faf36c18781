"""What all tests share: generated examples may take their time, and are the same each time where CI is set."""

import os

from hypothesis import settings

collect_ignore_glob = ["*/conftest.py"]
"""Fixtures of a room, no doctests: collected as modules, those of two rooms would clash by their one name."""

settings.register_profile("desk", deadline=None)
settings.register_profile("unattended", deadline=None, derandomize=True)
settings.load_profile("unattended" if os.environ.get("CI") else "desk")
