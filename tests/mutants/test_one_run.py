"""Runs of the tests with a fault in the program, on a module whose tests are quick."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from app.set_up import ROOT


def test_a_fault_is_caught_and_nothing_is_written_to_the_tree(tmp_path: Path) -> None:
    # In a process of its own: the loop over the tests is taken over there.
    before = (ROOT / "geometry/bend_allowance.py").read_bytes()
    code = """
import sys
from pathlib import Path
from tests.mutants.collected import Collected
from tests.mutants.faults import faults_of
from tests.mutants.one_run import load_libraries, run_fresh
from tests.mutants import collected

collected.TEST_FOLDERS = ("tests/geometry/test_bend_allowance.py",)
load_libraries()
folder = Path(sys.argv[1])
file, test = "geometry/bend_allowance.py", "tests/geometry/test_bend_allowance.py"
text = Path(file).read_text("utf-8")
fault = next(f for f in faults_of(file, text) if f.kind == "return dropped" and f.function)
running = Collected(folder)
assert running.files() == [test]
sound = running.traced(test, 60.0)
assert sound.code == 0, sound
assert fault.line in sound.said["lines"][file]
caught = running.run([test], 60.0, fault, fault.put_in(text))
assert (caught.code, caught.said["failed"].partition("::")[0]) == (1, test), caught
assert running.traced(test, 60.0).code == 0
running.end()
fresh = run_fresh([test], folder / "fresh.json", 60.0, (file, fault.put_in(text)))
assert (fresh.code, fresh.said["failed"].partition("::")[0]) == (1, test), fresh
sound = run_fresh([test], folder / "fresh.json", 60.0, (file, text))
assert (sound.code, sound.said["failed"]) == (0, ""), sound
print("as it should")
"""
    answer = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert answer.stdout.endswith("as it should\n"), answer.stdout + answer.stderr
    assert (ROOT / "geometry/bend_allowance.py").read_bytes() == before
