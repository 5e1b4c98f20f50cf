"""Where nodes stand in the fronts of a factor, told anew by looking each of them up."""

from __future__ import annotations

import threading

import numpy as np
import pytest

from geometry.plate_mesh import mesh_plate
from solver import front_memory
from solver.dissection import Dissection, dissect
from solver.front_memory import Fronts, Remainders
from tests.brackets import one_piece

Fixed = tuple[Dissection, list[np.ndarray]]
NO_BORDER = np.zeros(0, dtype=np.int64)


@pytest.fixture(scope="module", params=["a plate", "few elements"])
def fixed(request: pytest.FixtureRequest) -> Fixed:
    mesh = mesh_plate(one_piece().plates[0], size_mm=30.0)
    plan = dissect(mesh, 28 if request.param == "a plate" else len(mesh.tets))
    # border nodes, each tied to a node, from one in the middle and the first to many over all of the plate
    tied = [plan.node_count // 2, 0, *range(1, plan.node_count, plan.node_count // 30)]
    return plan, plan.rims(mesh.tets, np.array(tied), plan.node_count + np.arange(len(tied)))


def front(plan: Dissection, rims: list[np.ndarray], piece: int) -> list[int]:
    return [*range(plan.starts[piece], plan.starts[piece + 1]), *rims[piece].tolist()]


def test_rows_are_places_in_the_front(fixed: Fixed) -> None:
    plan, rims = fixed
    fronts = Fronts(plan, rims)
    for piece in range(len(rims)):
        nodes = np.array(front(plan, rims, piece))
        rows = fronts.rows(np.full(len(nodes), piece), nodes)
        assert rows.tolist() == list(range(len(nodes)))


def test_runs_put_every_node_of_a_half_where_it_stands_in_the_whole(fixed: Fixed) -> None:
    plan, rims = fixed
    runs = Fronts(plan, rims).runs()
    assert runs[-1] == []
    for whole, halves in enumerate(plan.children.tolist()):
        nodes = front(plan, rims, whole)
        owned = plan.starts[whole + 1] - plan.starts[whole]
        for half in halves:
            if half < 0:
                continue
            ends = [0, *(last for _, last, _ in runs[half])]
            assert [first for first, _, _ in runs[half]] == ends[:-1]
            assert ends[-1] == 3 * len(rims[half])
            for first, last, to in runs[half]:
                length = (last - first) // 3
                at = to // 3
                assert rims[half][first // 3 : last // 3].tolist() == nodes[at : at + length]
                assert at + length <= owned or at >= owned


def test_a_subtree_has_room_of_its_own_as_long_as_it_is_worked_on(
    fixed: Fixed, monkeypatch: pytest.MonkeyPatch
) -> None:
    plan, rims = fixed
    monkeypatch.setattr(front_memory, "CORES", 2)
    left = Remainders(plan, rims)
    with left.room() as one, left.room() as other:
        for piece, rim in enumerate(rims):
            assert one(piece).shape == (3 * len(rim), 3 * len(rim))
            if left._within[piece] and len(rim):
                assert not np.shares_memory(one(piece), other(piece))
            elif len(rim):
                assert np.shares_memory(one(piece), other(piece))
        for whole, (a, b) in enumerate(plan.children.tolist()):
            if a >= 0 and len(rims[a]) and len(rims[b]):
                assert not np.shares_memory(one(a), one(b))
                assert not np.shares_memory(one(whole), one(a)) or not len(rims[whole])
    assert left.last().shape == (3 * len(rims[-1]), 3 * len(rims[-1]))


def test_a_third_thread_waits_for_room(fixed: Fixed, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(front_memory, "CORES", 1)
    left, had = Remainders(*fixed), threading.Event()

    def take() -> None:
        with left.room():
            had.set()

    with left.room():
        thread = threading.Thread(target=take)
        thread.start()
        assert not had.wait(0.1)
    assert had.wait(10.0)
    thread.join()
