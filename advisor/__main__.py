"""`python -m advisor` is the command `advisor`."""

import sys

from advisor.interface.commands.command_line import main

sys.exit(main())
