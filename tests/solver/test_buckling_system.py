"""The whole bracket as it buckles: what is taken off, what it answers to forces, and what comes out."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import pytest

from geometry.stiffness_ranges import ALL_LOW
from solver import buckling_system
from solver.buckling_system import BucklingSystem
from solver.condensed_plate import CondensedPlate
from solver.elasticity import body_force
from solver.evaluation import Loaded, loaded
from solver.load_factors import BLOCK, Buckles
from solver.rigid import Floats
from solver.solved import Solved, with_inputs
from tests.brackets import STIFF_BEARINGS

COUPLE_NM = 30.0
Taking = Callable[[Floats], Floats]


def load_of(whole: Solved) -> Loaded:
    return loaded(whole.states, whole.cases, COUPLE_NM)


def column_of(load: Loaded, kind: str, taken: str = "stuck", number: int = 0) -> int:
    """Return the column of that kind of load case in the state with all stiffnesses at their low ends."""
    asked = (kind, taken, ALL_LOW)
    return [i for i, c in enumerate(load.columns) if (c.case.kind, c.taken, c.high) == asked][number]


def weight_of(plate: CondensedPlate) -> Floats:
    """Return the (3 n, 3) forces of a plate's own weight on its nodes, N."""
    share = body_force(plate.mesh, np.array([9.80665e-9 * plate.metal.density_kg_m3, 0.0, 0.0]))[::3]
    return np.asarray(np.kron(share[:, None], np.eye(3)))


class Asked:
    """What a system hands to the iteration, and what it does with an answer."""

    def __init__(self, whole: Solved, columns: Sequence[int], monkeypatch: pytest.MonkeyPatch) -> None:
        def take(answer: Taking, takings: Sequence[Taking], unknowns: int, far: float) -> list[Buckles]:
            self.answer, self.takings, self.unknowns, self.far = answer, takings, unknowns, far
            return []

        monkeypatch.setattr(buckling_system, "load_factors", take)
        BucklingSystem(whole).factors(load_of(whole), columns, 12.0)


@pytest.mark.parametrize(
    ("name", "taken"), [("side_by_side", "stuck"), ("flat", "stuck"), ("flat", "all slipped")]
)
def test_it_gives_under_weight_as_the_bracket_does(
    name: str, taken: str, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Against the way all checks go: bolts first, then each plate by its modes."""
    whole: Solved = request.getfixturevalue(name)
    load = load_of(whole)
    asked = Asked(whole, [column_of(load, "couple", taken), column_of(load, "couple")], monkeypatch)
    weight = np.vstack([weight_of(plate) for plate in whole.plates])
    assert (asked.unknowns, asked.far) == (len(weight), 12.0)
    forces = np.hstack([weight[:, :BLOCK], weight[:, 1 : 1 + BLOCK]])
    for own, state_taken, axes in ((slice(0, 2), taken, (0, 1)), (slice(2, 4), "stuck", (1, 2))):
        state = next(s for s in whole.states if (s.taken, s.high) == (state_taken, ALL_LOW))
        usual = np.vstack(
            [p.modes @ a[:, [6 + i for i in axes]] for p, a in zip(whole.plates, state.amounts, strict=True)]
        )
        assert np.abs(asked.answer(forces)[:, own] - usual).max() < 1e-6 * np.abs(usual).max()


def test_what_a_load_takes_off_is_symmetric_and_nothing_from_a_bracket_carried_along(
    side_by_side: Solved, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Stress works on the slopes of a movement: carried along, it has none (Timoshenko, from memory)."""
    load = load_of(side_by_side)
    asked = Asked(side_by_side, [column_of(load, "couple"), column_of(load, "as measured")], monkeypatch)
    lot = np.random.default_rng(7)
    one, other = lot.standard_normal((2, asked.unknowns, 1))
    carried = np.tile(np.eye(3), (asked.unknowns // 3, 1))
    for taking in asked.takings:
        size = np.abs(taking(one)).max()
        assert (other.T @ taking(one)).item() == pytest.approx((one.T @ taking(other)).item(), rel=1e-9)
        assert np.abs(taking(carried)).max() < 1e-9 * size


def test_leaning_straps_lose_what_their_forces_do_along_them(
    side_by_side: Solved, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Leant over by w = a y, a strap under a pressing force N at length L loses N L a^2 of its work.

    The bar leaning on a hinge, Timoshenko and Gere, Theory of Elastic Stability, 1.3 (from memory).
    """
    load = load_of(side_by_side)
    column = column_of(load, "as measured")
    (taking,) = Asked(side_by_side, [column], monkeypatch).takings
    sizes = [3 * len(plate.mesh.points) for plate in side_by_side.plates]
    connections = side_by_side.states[0].structure.connections
    found = []
    for number, plate in enumerate(side_by_side.plates):
        leant = [np.zeros(size) for size in sizes]
        leant[number][2::3] = plate.mesh.points[:, 1]
        by_hand = 0.0
        for place in plate.places:
            row = load.forces.bolts.index(place.bolt)
            force = connections[row].axes @ load.forces.local[row, :3, column]
            by_hand -= float(force[1] * place.mating_mm[1])
        leaning = np.concatenate(leant)[:, None]
        found.append((leaning.T @ taking(leaning)).item())
        assert found[-1] == pytest.approx(by_hand, rel=0.05)
    # the couple presses one of them and pulls the other
    assert min(found) < 0.0 < max(found)


@pytest.fixture(scope="module")
def alike(side_by_side: Solved) -> tuple[BucklingSystem, Loaded, list[int], list[Buckles]]:
    """What the couple does both ways to straps that mirror each other, and a pull."""
    load = load_of(side_by_side)
    columns = [column_of(load, "couple", number=i) for i in (0, 1)] + [column_of(load, "pull")]
    system = BucklingSystem(side_by_side)
    return system, load, columns, system.factors(load, columns)


def test_columns_asked_together_buckle_as_each_by_itself(
    alike: tuple[BucklingSystem, Loaded, list[int], list[Buckles]],
) -> None:
    system, load, columns, together = alike
    for column, found in zip(columns, together, strict=True):
        (alone,) = system.factors(load, [column])
        assert found.settled
        assert found.factor == pytest.approx(alone.factor, rel=2e-3)


def test_a_couple_the_other_way_buckles_the_mirrored_bracket_alike(
    alike: tuple[BucklingSystem, Loaded, list[int], list[Buckles]],
) -> None:
    _, _, _, (one, other, _) = alike
    assert one.factor == pytest.approx(other.factor, rel=0.02)


def test_what_it_buckles_into_is_told_per_plate(
    alike: tuple[BucklingSystem, Loaded, list[int], list[Buckles]], side_by_side: Solved
) -> None:
    """The pressed strap of the two goes out of its plane, and not at its bolts."""
    system, _, _, (one, other, _) = alike
    told = []
    for found in (one, other):
        shapes = system.shapes(found)
        assert [s.size for s in shapes] == [3 * len(p.mesh.points) for p in side_by_side.plates]
        assert np.array_equal(np.concatenate(shapes), found.shape)
        told.append(system.moves_most(shapes))
    names = {words.partition(",")[0] for words in told}
    assert names == {"strap 1", "strap 2"}


def test_the_place_told_is_that_of_the_node_that_moves_most(side_by_side: Solved) -> None:
    system = BucklingSystem(side_by_side)
    for number, plate in enumerate(side_by_side.plates):
        node = int(np.argmax(plate.mesh.flat_points[:, 1]))
        shapes = [np.full(3 * len(p.mesh.points), 0.1) for p in side_by_side.plates]
        # 0.6 along one axis is farther than 0.4 along two
        shapes[number][3 * node + 2] = 0.6
        other = 3 * int(np.argmin(plate.mesh.flat_points[:, 1]))
        shapes[number][other : other + 2] = 0.4
        x, y, _ = plate.mesh.flat_points[node]
        words = f"{plate.plate.name}, moves most at ({x:.0f}, {y:.0f})"
        assert system.moves_most(shapes) == words


def test_the_same_plates_on_a_column_in_bearings_buckle_as_if_asked_anew(side_by_side: Solved) -> None:
    other = with_inputs(side_by_side, side_by_side.bracket.but(column=STIFF_BEARINGS))
    load, first = load_of(other), BucklingSystem(side_by_side)
    column = column_of(load, "pull")
    (loose,) = first.factors(load_of(side_by_side), [column_of(load_of(side_by_side), "pull")])
    (after,) = BucklingSystem(other, first).factors(load, [column])
    (anew,) = BucklingSystem(other).factors(load, [column])
    assert after.factor == pytest.approx(anew.factor, rel=1e-6)
    assert after.factor > 2.0 * loose.factor
