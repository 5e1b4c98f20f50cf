"""An analysis that nobody waits for any more is given up wherever it is, and leaves nothing half made."""

from __future__ import annotations

import threading
import time

import pytest

import solver.beside
import solver.piece_threads
from geometry.plate_mesh import mesh_plate
from geometry.wanted import NoLongerWantedError, still_wanted, while_wanted
from solver.analyse import analyse
from solver.beside import Beside
from solver.dissection import dissect
from solver.kept_plates import KeptPlates
from solver.piece_threads import in_pieces
from tests.solver.test_analyse_in_turn import figures, small


class Asked:
    """Counts how often it is asked; from the `last` on nothing is wanted any more."""

    def __init__(self, last: float = float("inf")) -> None:
        self.times = 0
        self.last = last
        self._lock = threading.Lock()

    def __call__(self) -> None:
        with self._lock:
            self.times += 1
            if self.times >= self.last:
                raise NoLongerWantedError


@pytest.fixture(params=[1, 2])
def cores(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> int:
    count = int(request.param)
    monkeypatch.setattr(solver.piece_threads, "CORES", count)
    monkeypatch.setattr(solver.beside, "CORES", count)
    return count


def test_given_up_anywhere_the_next_says_the_same_to_the_last_digit(cores: int) -> None:
    usual = analyse(small())
    asked = Asked()
    with while_wanted(asked):
        analyse(small())
    assert asked.times > 100
    for share in (0.0, 0.45, 0.9):
        kept = KeptPlates()
        with pytest.raises(NoLongerWantedError), while_wanted(Asked(max(1, round(asked.times * share)))):
            analyse(small(), kept=kept)
        again = analyse(small(), kept=kept)
        assert (again.verdict, again.sentence) == (usual.verdict, usual.sentence)
        assert figures(again) == figures(usual)


def test_pieces_of_a_factor_ask_in_whatever_thread_they_are_worked_on(cores: int) -> None:
    mesh = mesh_plate(small().plates[0])
    threads: set[int] = set()

    def job(_: range) -> None:
        time.sleep(0.01)
        still_wanted()

    with while_wanted(lambda: threads.add(threading.get_ident())):
        in_pieces(dissect(mesh), job)
    assert len(threads) == (1 if cores == 1 else cores + 1)

    with pytest.raises(NoLongerWantedError), while_wanted(Asked(3)):
        in_pieces(dissect(mesh), job)


def test_what_is_begun_beside_ends_with_what_began_it(cores: int) -> None:
    def endless() -> None:
        until = time.monotonic() + 30.0
        while time.monotonic() < until:
            still_wanted()
            time.sleep(0.001)

    with pytest.raises(NoLongerWantedError), while_wanted(Asked(20)), Beside() as beside:
        beside.begin(endless)()
