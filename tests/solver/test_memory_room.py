"""A mesh that does not fit is refused before it is made, with both figures."""

from __future__ import annotations

import subprocess
import sys

import pytest

from geometry.placing import footprints_of, place_bolts
from geometry.plate_mesh import mesh_plate
from solver import memory_room
from solver.analyse import analyse
from solver.errors import SolverError
from solver.memory_room import bytes_for, free_bytes, refuse_too_fine
from solver.piece_threads import no_thread_is_no_memory
from tests.app.window.flat_hands import sample
from tests.app.worker.test_process import small


def test_too_fine_a_mesh_is_refused_with_both_figures(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(memory_room, "free_bytes", lambda: 6.2e9)
    refuse_too_fine("foot", 7, 400_000)
    with pytest.raises(SolverError, match=r"plate foot: .*6 200 000 unknowns.*85 GB.*6\.2 GB are free: take"):
        refuse_too_fine("foot", 7, 6_200_000)


def test_what_the_process_keeps_is_handed_back_before_anything_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    free = [1e9]
    monkeypatch.setattr(memory_room, "free_bytes", lambda: free[0])
    monkeypatch.setattr(memory_room, "give_memory_back", lambda: free.__setitem__(0, 9e9))
    refuse_too_fine("foot", 7, 400_000)
    assert free == [9e9]


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="asks Linux what a process holds")
def test_freed_memory_is_kept_and_handed_back() -> None:
    """In a process of its own: malloc(3), mallopt(3) and malloc_trim(3) of the GNU C library."""
    code = (
        "from pathlib import Path\n"
        "from solver.freed_memory import give_memory_back, keep_freed_memory\n"
        "def held(): return int(Path('/proc/self/statm').read_text().split()[1]) * 4096\n"
        "keep_freed_memory()\n"
        "before = held()\n"
        "block = bytes(200_000_000)\n"
        "block = bytearray(block)\n"
        "del block\n"
        "kept = held() - before\n"
        "give_memory_back()\n"
        "print(kept, held() - before)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    kept, after = map(int, done.stdout.split())
    assert kept > 150e6
    assert after < 20e6


def test_where_the_system_does_not_tell_nothing_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(memory_room, "free_bytes", lambda: None)
    refuse_too_fine("foot", 7, 10**9)


def test_what_is_needed_is_what_was_measured() -> None:
    """Measured by the most the process held, seven bolts, drifts and all (see `memory_room`)."""
    for unknowns, measured in ((51_894, 420e6), (120_966, 818e6), (235_080, 1695e6), (408_483, 3233e6)):
        assert bytes_for(unknowns, 7) == pytest.approx(measured, rel=0.2)


def test_this_machine_tells_what_is_free() -> None:
    free = free_bytes()
    assert free is None or 1e6 < free < 1e14


def test_the_least_of_machine_container_and_process_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, room in (("_of_machine", 8e9), ("_of_container", 2e9), ("_of_process", None)):
        monkeypatch.setattr(memory_room, name, lambda room=room: room)
    assert free_bytes() == 2e9
    monkeypatch.setattr(memory_room, "_of_container", lambda: -1.0)
    assert free_bytes() == 0.0


def test_unknowns_are_foreseen_before_anything_is_meshed() -> None:
    bracket = sample("marlpit_one_piece")
    plate = bracket.plates[0]
    footprints = footprints_of(place_bolts(bracket), plate.name)
    for size_mm, layers, doubled in ((None, 1, False), (4.0, 1, True)):
        told: list[int] = []
        mesh = mesh_plate(
            plate, footprints, size_mm, layers=layers, double_bends=doubled, foreseen=told.append
        )
        assert told[0] == pytest.approx(3 * len(mesh.points), rel=0.3)


def test_a_bracket_that_does_not_fit_is_not_meshed(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object) -> None:
        raise AssertionError("it was meshed")

    monkeypatch.setattr("geometry.plate_mesh.triangulate", never)
    monkeypatch.setattr(memory_room, "free_bytes", lambda: 50e6)
    with pytest.raises(SolverError, match="GB are free"):
        analyse(small())


def test_no_thread_is_no_memory_and_any_other_fault_is_its_own() -> None:
    with pytest.raises(MemoryError), no_thread_is_no_memory():
        raise RuntimeError("can't start new thread")
    with pytest.raises(RuntimeError, match="else"), no_thread_is_no_memory():
        raise RuntimeError("something else")
