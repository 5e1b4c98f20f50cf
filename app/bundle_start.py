"""What a bundle begins with: the worker's process goes its own way, the others go to the command line.

`app/__main__.py` is not used there: it looks for a source folder and makes `.venv`, which a bundle has not.
"""

from __future__ import annotations

import sys
from multiprocessing import freeze_support

from app.bundle.contents import TRY_EVERYTHING
from app.system_libraries import how_to_get, missing_packages


def run() -> None:
    """Say which system libraries are missing, if any, and run the command line; leaves with its exit code."""
    freeze_support()
    missing = missing_packages()
    if missing:
        sys.stderr.write(how_to_get(missing) + "\n")
    if sys.argv[1:] == [TRY_EVERYTHING]:
        from app.bundle.trial import try_everything

        try_everything()
        sys.exit(0)
    from app.cli.main import main

    sys.exit(main())


if __name__ == "__main__":
    run()
