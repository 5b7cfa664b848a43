"""Lets ``python -m zonule`` do what the ``zonule`` command does."""

import sys

from zonule.cli import main

if __name__ == "__main__":
    sys.exit(main())
