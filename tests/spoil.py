"""Spoil the program by 5 % and see that every reference test fails: `python3 tests spoil`.

A test that cannot fail proves nothing. Each reference test is run as the program stands, and must pass; then
each of its comparisons, or the test as a whole if it makes none, must be seen to disagree:

1. *softer*, *stiffer*: the stiffness of every plate and of every beam is divided by 1.05, then by 0.95, in
   the program itself. Under given forces that makes displacements and stresses 5 % too large, then too small.
   What disagrees now has been seen to judge the solver.
2. *above*, *below*: the rest is run on a sound program while `agrees` and `lies_between` take
   the computed value as 1.05, then 0.95 times what it is. This is for numbers that no stiffness decides:
   tables of bolts and materials, bend allowances, bolt forces set by equilibrium, ratios, counts. It proves
   that the comparison is made and that its tolerance is tight enough; it does not prove that the value came
   from the program. The command names them, so that one which ought to judge the solver is noticed.

Both directions are tried since a value 1 % low may be 4 % high when spoilt, and a tolerance of 5 % lets it
pass. What survives all four is dead, and the command fails. An error other than a failed comparison
does not count.
"""

from __future__ import annotations

import functools
import importlib
import json
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Final

from app.set_up import ROOT

WAYS: Final = {"softer": 1.05, "stiffer": 0.95, "above": 1.05, "below": 0.95}
"""Each way to spoil, with the factor the computed values come out by."""

IN_THE_PROGRAM: Final = ("softer", "stiffer")
STIFFNESSES: Final = (("solver.elasticity", "hooke"), ("solver.beam", "beam_stiffness"))
"""Where the program makes a stiffness, of plates and of beams: module and function whose answer is spoilt."""


def spoil(way: str) -> None:
    """Spoil this process in one of the `WAYS`; call it before anything imports the solver."""
    factor = WAYS[way]
    from tests.validation import reference

    reference.raising = False
    if way in IN_THE_PROGRAM:
        for module_name, function in STIFFNESSES:
            module = importlib.import_module(module_name)
            _demand_first(module_name, function)
            setattr(module, function, _divided(getattr(module, function), factor))
    else:
        reference.value_factor = factor


def run_spoilt(arguments: Sequence[str], root: Path = ROOT) -> int:
    """Run the reference tests, sound and spoilt, and print what was seen; return 0 only if nothing is dead.

    `arguments` narrow the tests, as for pytest.
    """
    sound = run_for_report(["-m", "reference", *arguments], root)
    wrong = [f"{test} ({how})" for test, how in sound["outcomes"].items() if how in {"failed", "broken"}]
    claims = _claims(sound, "passed")
    unproven = list(claims)
    by_value: list[Claim] = []
    for way in WAYS:
        if not unproven:
            break  # with no test named, all of them would run
        spoilt = run_for_report([*dict.fromkeys(test for test, _ in unproven), "-m", ""], root, way)
        failing = {claim for claim, holds in _claims(spoilt, "passed", "failed").items() if not holds}
        seen = [claim for claim in unproven if claim in failing]
        print(f"{way}: {len(seen)} of {len(unproven)} comparisons disagreed, as they should", flush=True)
        by_value += seen if way not in IN_THE_PROGRAM else []
        unproven = [claim for claim in unproven if claim not in failing]
    counts = Counter(test.partition("[")[0] for test, _ in by_value)
    _list("Seen only where the computed value itself was changed", [f"{t}: {n}" for t, n in counts.items()])
    _list("Wrong before anything was spoilt", wrong)
    _list("DEAD: agreed although spoilt in every way", [f"{test}, {what}" for test, what in unproven])
    print(f"{len(claims) - len(unproven)} passed, {len(unproven) + len(wrong)} failed")
    return 0 if claims and not unproven and not wrong else 1


Claim = tuple[str, str]
"""What must be seen to fail: a test, and which of its comparisons (or the whole test when it makes none)."""


def _claims(report: dict[str, Any], *ended: str) -> dict[Claim, bool]:
    """Return each claim of the tests that ended in one of these ways, with whether it held."""
    outcomes = report["outcomes"]
    claims: dict[Claim, bool] = {}
    order: Counter[str] = Counter()
    for one in report["comparisons"]:
        test = one["test"]
        order[test] += 1
        if outcomes.get(test) in ended:
            claims[test, f"comparison {order[test]}: {one['name']}"] = one["agreed"]
    for test, outcome in outcomes.items():
        if outcome in ended and not order[test]:
            claims[test, "the whole test"] = outcome == "passed"
    return claims


def run_for_report(arguments: Sequence[str], root: Path, way: str | None = None) -> dict[str, Any]:
    """Run pytest in a process of its own and return its report: `outcomes` and `comparisons`.

    Raises RuntimeError with pytest's words when it wrote none.
    """
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "report.json"
        command = [sys.executable, "-m", "pytest", "-q", "--tb=no", f"--report={report}"]
        command += [f"--spoil={way}"] if way else []
        answer = subprocess.run([*command, *arguments], cwd=root, capture_output=True, text=True, check=False)
        if not report.is_file():
            raise RuntimeError(f"pytest wrote no report:\n{answer.stdout}{answer.stderr}")
        read: dict[str, Any] = json.loads(report.read_text(encoding="utf-8"))
        return read


def _demand_first(module: str, function: str) -> None:
    """Make sure nobody took the sound function by name before it was spoilt, which would leave them sound."""
    holders = [
        name
        for name, other in list(sys.modules.items())
        if name != module
        and name.startswith(("solver.", "app."))
        and getattr(other, function, None) is getattr(sys.modules[module], function)
    ]
    if holders:
        raise RuntimeError(f"{', '.join(holders)} imported {function} before it could be spoilt")


def _divided(assemble: Callable[..., Any], factor: float) -> Callable[..., Any]:
    @functools.wraps(assemble)
    def spoilt(*arguments: object, **named: object) -> Any:  # noqa: ANN401
        return assemble(*arguments, **named) / factor

    return spoilt


def _list(title: str, tests: Sequence[str]) -> None:
    if tests:
        print(f"{title}:")
        for test in tests:
            print(f"  {test}")
