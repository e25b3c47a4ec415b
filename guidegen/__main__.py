"""`python -m guidegen`, for where no script is on the path."""

import sys

from guidegen.cli import main

sys.exit(main())
