"""What a bundle begins with: the worker's process goes its own way, the others go to the command line.

`app/__main__.py` is not used there: it looks for a source folder and makes `.venv`, which a bundle has not.
"""

from __future__ import annotations

import os
import sys
from multiprocessing import freeze_support

from app.system_libraries import how_to_get, missing_packages


def run() -> None:
    """Say which system libraries are missing, if any, and run the command line; leaves with its exit code."""
    freeze_support()
    give_others_their_libraries()
    missing = missing_packages()
    if missing:
        sys.stderr.write(how_to_get(missing) + "\n")
    from app.cli.main import main

    sys.exit(main())


def give_others_their_libraries() -> None:
    """Let programs started from here find the system's libraries, not those of the bundle.

    The bundle's start file has put its own folder first, and leaves beside it what was there before. This
    process has read the variable already, and a worker's start file puts the folder there again.
    """
    before = os.environ.pop("LD_LIBRARY_PATH_ORIG", None)
    if before is None:
        os.environ.pop("LD_LIBRARY_PATH", None)
    else:
        os.environ["LD_LIBRARY_PATH"] = before


if __name__ == "__main__":
    run()
