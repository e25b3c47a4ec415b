"""`python -m guidegen`, for where no script is on the path."""

import sys

from guidegen.commands import main

sys.exit(main())
