"""What every office needs, read by the process that the tests' offices are forked from (`tests/apart.py`)."""

import intake.app
import intake.commands
import intake.setup.bootstrap  # noqa: F401
from intake.examination.plans import shipped_plans

shipped_plans()
