"""What all tests share: generated examples may take their time, and are the same each time where CI is set."""

import os

from hypothesis import settings

settings.register_profile("desk", deadline=None)
settings.register_profile("unattended", deadline=None, derandomize=True)
settings.load_profile("unattended" if os.environ.get("CI") else "desk")
