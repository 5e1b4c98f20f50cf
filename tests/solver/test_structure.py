"""The condensed plate and the small system, by what any of them must obey."""

import numpy as np
import pytest

from solver.condensed_plate import rigid_modes
from solver.rigid import carry
from solver.solved import Solved, with_bolts
from solver.structure import plate_wrenches, respond_all_slipped, respond_stuck
from solver.structure_assembly import build_structure

ALL = ["flat", "folded", "side_by_side", "in_line"]


@pytest.fixture(params=ALL)
def whole(request: pytest.FixtureRequest) -> Solved:
    solved: Solved = request.getfixturevalue(request.param)
    return solved


def scaled(plate_stiffness: np.ndarray) -> np.ndarray:
    """Turns counted at 10 mm, so that shifts and turns are of one size."""
    size = np.tile([1.0, 1.0, 1.0, 0.1, 0.1, 0.1], len(plate_stiffness) // 6)
    return plate_stiffness * np.outer(size, size)


def test_condensed_stiffness_is_symmetric_with_six_zero_eigenvalues(whole: Solved) -> None:
    for plate in whole.plates:
        assert np.allclose(plate.stiffness, plate.stiffness.T, rtol=0, atol=1e-9 * plate.stiffness.max())
        values = np.linalg.eigvalsh(scaled(plate.stiffness))
        # From the seventh on they are real, and the first six are rounding beside it.
        assert np.abs(values[:6]).max() < 1e-6 * values[6]
        assert values[6] > 0.0


def test_its_zero_motions_are_the_rigid_ones(whole: Solved) -> None:
    for plate in whole.plates:
        forces = plate.stiffness @ rigid_modes(plate)
        assert np.abs(forces).max() < 1e-7 * np.abs(plate.stiffness).max()


def test_forces_of_any_motion_are_in_balance(whole: Solved) -> None:
    rng = np.random.default_rng(1)
    for plate in whole.plates:
        forces = plate.stiffness @ rng.normal(size=(plate.stiffness.shape[0], 4))
        assert np.abs(rigid_modes(plate).T @ forces).max() < 1e-6 * np.abs(forces).max() * 100.0


def test_weight_goes_into_the_bolts_whole(whole: Solved) -> None:
    """What weight puts on bodies that stay: mass times gravity, about the mass centre."""
    for plate in whole.plates:
        total = rigid_modes(plate).T @ plate.weight_wrench
        weight = plate.mass_kg * 9.80665
        arms = carry(np.zeros(3), plate.mass_centre_mm).T[:, :3]
        assert total == pytest.approx(arms * weight, rel=1e-6, abs=1e-6 * weight)


def test_mass_is_volume_times_density(flat: Solved) -> None:
    """150 x 190 x 6 mm less seven holes of 9 and one of 40, at 7850 kg/m3."""
    area = 150 * 190 - np.pi / 4 * (7 * 9**2 + 40**2)
    assert flat.plates[0].mass_kg == pytest.approx(area * 6 * 7850e-9, rel=2e-3)


def test_assembled_stiffness_is_symmetric_and_positive(whole: Solved) -> None:
    structure = whole.states[0].structure
    assert np.array_equal(structure.stiffness, structure.stiffness.T)
    stuck = structure.stiffness[: structure.stuck, : structure.stuck]
    scale = 1 / np.sqrt(np.diag(stuck))
    assert np.linalg.eigvalsh(stuck * np.outer(scale, scale))[0] > 0.0


def test_slipped_is_never_stiffer_than_stuck(flat: Solved) -> None:
    structure = flat.states[0].structure
    loads = structure.unit_loads
    stuck = respond_stuck(structure, loads).unknowns
    slipped, _ = respond_all_slipped(structure, loads, 0)
    # Compliance as a quadratic form: any load does at least as much work on the softer structure.
    more = loads.T @ slipped.unknowns - loads.T @ stuck
    scale = 1 / np.sqrt(np.maximum(np.diag(loads.T @ stuck), 1e-30))
    assert np.linalg.eigvalsh(0.5 * (more + more.T) * np.outer(scale, scale)).min() > -1e-9


def test_slipped_connections_carry_no_spin(flat: Solved) -> None:
    slipped = next(s for s in flat.states if s.taken == "all slipped")
    stuck = next(s for s in flat.states if s.taken == "stuck")
    assert np.abs(slipped.local[:, 5]).max() < 1e-6 * np.abs(stuck.local[:, 5]).max()


def test_motions_found_by_stiffness_are_those_of_the_linkage(in_line: Solved) -> None:
    """Two free motions: they put no force on any plate."""
    structure = in_line.states[0].structure
    _, motions = respond_all_slipped(structure, structure.unit_loads, 2)
    for i, plate in enumerate(structure.plates):
        forces = plate_wrenches(structure, i, structure.plate_ways[i] @ motions, np.zeros((3, 2)))
        size = np.abs(plate.stiffness).max() * np.abs(structure.plate_ways[i] @ motions).max()
        assert np.abs(forces).max() < 1e-7 * size


def test_a_bolt_that_is_out_carries_nothing(flat: Solved) -> None:
    rest = with_bolts(flat, out=["5"])
    connections = rest.states[0].structure.connections
    row = next(i for i, c in enumerate(connections) if c.bolt == "5")
    carried = rest.states[0].local
    assert np.abs(carried[row]).max() < 1e-7 * np.abs(carried).max()
    # Everything else moves more.
    for before, after in zip(flat.states, rest.states, strict=True):
        assert after.response.casing[5, 5] > before.response.casing[5, 5]


def test_a_rigid_bar_is_stiffer_than_the_real_one(flat: Solved) -> None:
    real = respond_stuck(flat.states[0].structure, flat.states[0].structure.unit_loads)
    rigid = build_structure(flat.bracket, flat.plates, rigid_bar=True)
    assert respond_stuck(rigid, rigid.unit_loads).casing[5, 5] < real.casing[5, 5]
