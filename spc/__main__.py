"""`python -m spc` is the command `spc`."""

import sys

from spc.cli import main

sys.exit(main())
