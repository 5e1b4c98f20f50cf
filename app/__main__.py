"""`python3 app ARGUMENTS`: set the program up where it is not, then run the command line inside `.venv`.

Standard library alone, and parsed by any Python: see `app/python_version.py`.
"""

import os
import sys


def run() -> None:
    """Set up, then hand over to the command line; leaves with its exit code."""
    try:
        _start()
    except KeyboardInterrupt:
        _say_stopped()


def run_installed() -> None:
    """Run the command line of a copy that pip installed; leaves with its exit code."""
    try:
        from app.cli.main import main

        sys.exit(main())
    except KeyboardInterrupt:
        _say_stopped()


def _say_stopped() -> None:
    """Leave as a key pressed while the program's own files were still being read makes it leave."""
    sys.stderr.write("Stopped; there is no verdict.\n")
    sys.exit(130)


def _start() -> None:
    root = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    # The root in place of app/: `app.cli` is found, and no file of app/ hides a library of its name.
    sys.path[0] = root
    from app.python_version import demand_python

    demand_python()
    if getattr(sys, "frozen", False):
        # In a bundle the worker's process begins here too: it goes its own way and does not come back.
        from multiprocessing import freeze_support

        freeze_support()
    from app.set_up import start_inside

    start_inside(__file__)
    from app.cli.main import main

    sys.exit(main())


if __name__ == "__main__":
    run()
