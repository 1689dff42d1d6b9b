"""`python -m tilewitness`: the command line."""

import sys

from tilewitness.ui.cli import main

sys.exit(main())
