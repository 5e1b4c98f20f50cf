"""`python3 tests ARGUMENTS`: set the program up with its test tools, then run the tests inside `.venv`.

- no argument, or `check`: lint, types, layers and tests, all of them even when one fails;
- `bench`: the benchmark's table; `spoil`: prove that the reference tests can fail; `table`: the validation
  table; `golden`: whether the samples still say what they said; `dependencies`: what is needed, its licences
  and wheels;
- for an hour or more: `band-trial`: whether stated bands hold what far finer meshes answer; `faults`:
  processes killed, disks full, workers crashing, clocks jumping; `long-day`: whether a window worked for a
  day grows; `fuzz`: strangers' files of every kind, broken and hostile; `sound`:
  random brackets of every shape, the whole way; `mutants`: whether the tests notice small faults put in;
- anything else goes to pytest: `python3 tests -k bolts`.

Parsed by any Python 3: see `app/python_version.py`.
"""

import os
import sys


def run() -> None:
    """Set up, then run what was asked; leaves with its exit code."""
    root = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    sys.path[0] = root
    from app.python_version import demand_python

    demand_python()
    from app.set_up import start_inside

    start_inside(__file__, extras=("bench", "test"))
    from tests.commands import main

    sys.exit(main(sys.argv[1:]))


if __name__ == "__main__":
    run()
