"""The worker's process itself: the true solver in it, its beginning and its end."""

from __future__ import annotations

import os
import pickle
import signal
import subprocess
import sys
import textwrap
import time
from pathlib import Path

import pytest

from app.worker.client import Worker
from app.worker.messages import Ink, Pencil, Progress, Quick, Ready
from app.worker.process import NICENESS, judge_or_end
from geometry.bracket import Bracket
from geometry.loads import StatedCouple
from tests.app.example_results import example_results
from tests.app.worker.test_client import PATIENCE_S, hear, kind, pid
from tests.brackets import bolt_group

ROOT = Path(__file__).parents[3]
HEAVY = ("scipy", "gmsh", "clarabel", "skfem")


def small() -> Bracket:
    return bolt_group([(0, 50)], size="M8", hole_mm=9, pad_mm=16, thickness_mm=16, casing_places_mm=[(0, 0)])


def test_true_solver_judges_and_then_answers_quickly() -> None:
    worker, bracket = Worker(), small()
    try:
        number = worker.ask(bracket)
        worker.ask_quick(bracket)
        heard = hear(worker, kind(Ink))
        assert isinstance(heard[0], Ready)
        early = next(a for a in heard if isinstance(a, Quick))
        assert early.answer is None
        shares = [a.share for a in heard if isinstance(a, Progress)]
        assert shares == sorted(shares)
        pencil, ink = (next(a for a in heard if isinstance(a, one)) for one in (Pencil, Ink))
        assert pencil.number == ink.number == number
        assert pencil.key == ink.key == ink.results.hash == bracket.input_hash()
        assert not pencil.results.accuracy.refined
        assert ink.results.accuracy.refined
        _answers_quickly(worker, bracket, ink)
        if hasattr(os, "getpriority"):
            own = os.getpriority(os.PRIO_PROCESS, 0)
            assert os.getpriority(os.PRIO_PROCESS, pid(worker)) == min(own + NICENESS, 19)
    finally:
        worker.close()


def _answers_quickly(worker: Worker, bracket: Bracket, ink: Ink) -> None:
    turn = {c.name: c.demand for c in ink.results.checks}["turn"]
    halved = bracket.but(loads=bracket.loads.but(couple=StatedCouple(couple_nm=15)))
    worker.ask_quick(halved)
    quick = hear(worker, kind(Quick))[-1]
    assert isinstance(quick, Quick)
    assert quick.key == halved.input_hash()
    assert quick.answer is not None
    assert quick.answer.casing is not None
    assert ink.results.casing is not None
    assert quick.answer.casing.turn_deg == pytest.approx(ink.results.casing.turn_deg / 2, rel=1e-3)
    assert turn > 0
    for out in ("c1", "no such bolt"):
        worker.ask_quick(bracket, out=[out])
        lost = hear(worker, kind(Quick))[-1]
        assert isinstance(lost, Quick)
        assert (lost.answer is None) == (out == "no such bolt")
    thinner = bracket.with_plate(bracket.plates[0].but(thickness_mm=15))
    for changed in (thinner, bracket.but(casing=None)):
        worker.ask_quick(changed)
        none = hear(worker, kind(Quick))[-1]
        assert isinstance(none, Quick)
        assert none.answer is None


def test_window_needs_nothing_heavy_to_understand_the_answers(tmp_path: Path) -> None:
    path = tmp_path / "answer.pickle"
    path.write_bytes(pickle.dumps(Ink(1, "key", example_results())))
    code = f"""
        import pickle, sys
        from pathlib import Path
        import app.worker.client
        from solver.results import QuickAnswer
        pickle.loads(Path({str(path)!r}).read_bytes())
        print([name for name in {HEAVY!r} if name in sys.modules])
    """
    assert _python(code).stdout.strip() == "[]"


@pytest.mark.parametrize("busy", [False, True])
def test_process_ends_when_the_window_is_killed(busy: bool) -> None:
    code = f"""
        import os, signal, time
        from app.worker.client import Worker
        from app.worker.messages import Progress, Ready
        from tests.app.worker.test_process import small
        if __name__ == "__main__":
            worker = Worker()
            worker.start()
            if {busy}:
                worker.ask(small())
            while not any(isinstance(a, Progress if {busy} else Ready) for a in worker.poll()):
                time.sleep(0.01)
            print(worker._line.process.pid, flush=True)
            os.kill(os.getpid(), signal.{"SIGTERM" if os.name == "nt" else "SIGKILL"})
    """
    done = _python(code)
    worker = int(done.stdout)
    assert done.returncode != 0
    end = time.monotonic() + PATIENCE_S
    while _runs(worker) and time.monotonic() < end:
        time.sleep(0.02)
    assert not _runs(worker)


MAIN = """
import sys
sys.path[0] = {root!r}
with open({log!r}, "a") as log:
    log.write(__name__ + "\\n")
if __name__ == "__main__":
    from app.worker.client import Worker
    from app.worker.messages import Ready
    from tests.app.worker.stand_ins import serve
    from tests.app.worker.test_client import hear, kind
    worker = Worker(serve)
    worker.start()
    hear(worker, kind(Ready))
    worker.close()
    print("ready")
"""


@pytest.mark.parametrize(
    ("name", "run_in_worker"), [("program/__main__.py", []), ("holdsquare", ["__mp_main__"])]
)
def test_main_module_is_not_started_over_in_the_worker(
    tmp_path: Path, name: str, run_in_worker: list[str]
) -> None:
    """`python3 app` runs a folder, `holdsquare` a script, which the worker imports but does not start."""
    log, script = tmp_path / "log", tmp_path / name
    script.parent.mkdir(exist_ok=True)
    script.write_text(MAIN.format(root=str(ROOT), log=str(log)))
    target = script.parent if name.endswith("__main__.py") else script
    done = subprocess.run([sys.executable, target], capture_output=True, text=True, timeout=PATIENCE_S)
    assert (done.returncode, done.stdout, done.stderr) == (0, "ready\n", "")
    assert log.read_text().split() == ["__main__", *run_in_worker]


def test_program_s_own_main_module_sets_nothing_up_in_the_worker() -> None:
    """`python3 app`, with a command line that starts a worker."""
    code = f"""
        import runpy, sys, types
        sys.argv = ["app"]
        sys.path.insert(0, {str(ROOT / "app")!r})
        def main():
            sys.modules["app.set_up"].start_inside = None
            from app.worker.client import Worker
            from app.worker.messages import Ready
            from tests.app.worker.stand_ins import serve
            from tests.app.worker.test_client import hear, kind
            worker = Worker(serve)
            worker.start()
            hear(worker, kind(Ready))
            worker.close()
            print(sys.modules["__main__"].__spec__.name)
            return 7
        command_line = types.ModuleType("app.cli.main")
        command_line.main = main
        sys.modules["app.cli.main"] = command_line
        # What the interpreter itself does with a folder.
        runpy._run_module_as_main("__main__", False)
    """
    done = _python(code)
    assert (done.returncode, done.stdout, done.stderr) == (7, "__main__\n", "")


@pytest.mark.parametrize("frozen", [True, False])
def test_bundle_s_worker_goes_its_own_way(frozen: bool) -> None:
    code = f"""
        import multiprocessing, runpy, sys, types
        sys.argv = ["app"]
        sys.path.insert(0, {str(ROOT / "app")!r})
        multiprocessing.freeze_support = lambda: sys.exit(5)
        if {frozen}:
            sys.frozen = True
        command_line = types.ModuleType("app.cli.main")
        command_line.main = lambda: 7
        sys.modules["app.cli.main"] = command_line
        runpy._run_module_as_main("__main__", False)
    """
    assert _python(code).returncode == (5 if frozen else 7)


def _python(code: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", textwrap.dedent(code)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=PATIENCE_S,
        check=False,
    )


def _runs(process: int) -> bool:
    try:
        os.kill(process, signal.SIG_DFL)
    except ProcessLookupError:
        return False
    # Where nobody reaps orphans they stay as a line in the table.
    status = Path(f"/proc/{process}/status")
    return not (status.is_file() and "State:\tZ" in status.read_text())


def test_judging_that_ends_ends_the_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without memory to say so, the window would wait for ever for a process that lives."""
    codes: list[int] = []
    monkeypatch.setattr("app.worker.process.os._exit", codes.append)

    def no_memory() -> None:
        raise MemoryError

    with pytest.raises(MemoryError):
        judge_or_end(no_memory)
    assert codes == [1]
