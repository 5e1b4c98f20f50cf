"""What pieces that are a little off ask for, against beam theory, geometry of turns, and equilibrium."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from geometry.bracket_file import read_bracket
from geometry.fit_up import FitUp
from geometry.stiffness_ranges import ALL_LOW
from solver.analyse import analyse
from solver.assumptions import assumptions_of
from solver.beam import beam_stiffness, ring_section
from solver.fit_up import FitForces, fit_forces
from solver.fit_up_checks import fit_up_checks
from solver.fit_up_errors import fit_errors
from solver.rigid import axes_along, carry
from solver.solved import Solved, with_inputs
from solver.structure_assembly import build_structure
from solver.verdict import verdict_of
from tests.brackets import NO_BEARINGS, meshed, one_piece, solved_once, straps
from tests.validation.reference import agrees

BEAM = "end moments of a beam, slope and deflection (closed form)"
TURNS = "composition of small turns (closed form)"
SAMPLES = Path(__file__).parents[2] / "sample_brackets"
LENGTH, TURN = 400.0, np.radians(0.5)


@pytest.fixture(scope="module")
def folded() -> Solved:
    return solved_once(one_piece(folded=True))


@pytest.fixture(scope="module")
def beam() -> FitForces:
    """Return what happens to a round bar of 12 mm for a strap; a second strap, as good as rigid, holds the
    casing.
    """
    bracket = straps("side by side", column=NO_BEARINGS, length_mm=LENGTH)
    whole = solved_once(bracket)
    bar = beam_stiffness(ring_section(12.0, 0.0), LENGTH, 210_000.0, 0.3, axes_along([0.0, 1.0, 0.0]))
    plates = (
        replace(whole.plates[0], stiffness=bar),
        replace(whole.plates[1], stiffness=1e6 * whole.plates[1].stiffness),
    )
    fit = FitUp(flat_deg=0.5)
    return fit_forces(bracket, build_structure(bracket, plates), fit, ALL_LOW)


def test_a_strap_bolted_flat_although_one_end_is_turned(beam: FitForces) -> None:
    """Turned by t, a beam clamped at both ends pulls with 6 E I t / L2, and bends with 4 and 2 E I t / L."""
    error = beam.errors.names.index("strap 1 out of flat")
    sizes = {
        c.bolt: beam.errors.sizes(rows)[..., error]
        for c, rows in zip(beam.connections, beam.local, strict=True)
    }
    bending = 210_000.0 * np.pi * 12.0**4 / 64.0 * TURN
    agrees(
        sizes["a1"][2], 6 * bending / LENGTH**2, 5e-3, source=BEAM, name="force to pull a turned end in, N"
    )
    agrees(
        max(sizes["a1"][3:5]), 4 * bending / LENGTH, 5e-3, source=BEAM, name="moment at the turned end, N.mm"
    )
    agrees(
        max(sizes["c1"][3:5]), 2 * bending / LENGTH, 5e-3, source=BEAM, name="moment at the other end, N.mm"
    )


def test_the_gap_at_one_open_bolt(beam: FitForces) -> None:
    """With the turned end tight the strap stands off at its other end by its length times the turn."""
    error = beam.errors.names.index("strap 1 out of flat")
    row = [c.bolt for c in beam.connections].index("c1")
    gap = beam.errors.sizes(beam.gap_mm[row])[error]
    agrees(
        gap, LENGTH * TURN, 1e-3, source="length x turn (closed form)", name="gap of a strap of 400 mm, mm"
    )


def test_shapes_of_a_folded_plate(folded: Solved) -> None:
    """An angle 1 deg off turns the foot by it; a line g askew turns a foot at 90 deg by g sqrt 2."""
    errors = fit_errors(FitUp(fold_deg=1, square_deg=0.5), folded.plates)
    foot = [i for i, place in enumerate(folded.plates[0].places) if place.partner == "dash bar"]
    turns = errors.sizes(errors.shapes.reshape(-1, 6, errors.shapes.shape[1])[foot[0], 3:])
    turn = np.degrees(np.linalg.norm(turns, axis=0))
    agrees(turn[0], 1.0, 1e-6, source=TURNS, name="turn of a foot folded 1 deg off, deg")
    agrees(turn[1], 0.5 * np.sqrt(2), 1e-5, source=TURNS, name="turn of a foot on a skew fold line, deg")


@pytest.mark.qualitative
def test_what_stays_is_in_equilibrium_and_a_rigid_shift_asks_for_nothing(folded: Solved) -> None:
    bracket = folded.bracket
    forces = fit_forces(bracket, folded.states[0].structure, FitUp(), ALL_LOW)
    whole = np.zeros((6, forces.local.shape[2]))
    casing = np.zeros_like(whole)
    for connection, local in zip(forces.connections, forces.local, strict=True):
        wrench = np.vstack([connection.axes @ local[:3], connection.axes @ local[3:]])
        about_shaft = carry(np.zeros(3), connection.at_mm).T @ wrench
        whole += about_shaft
        casing += about_shaft if connection.place.partner == "boss" else 0.0
    for bearing, side in zip(bracket.column.bearings, forces.bearings_n, strict=True):
        arm = carry(np.zeros(3), [0.0, 0.0, bearing.station_mm])[:2]
        casing += arm.T @ side
    largest = np.abs(forces.local).max()
    assert np.abs(whole).max() < 1e-6 * largest
    assert np.abs(casing).max() < 1e-6 * largest


@pytest.mark.qualitative
def test_the_fit_decides_the_verdict(folded: Solved) -> None:
    """Careful work passes, usual work is marginal, a fold far off overstresses the plate."""
    verdicts, names = {}, {}
    for word, fit in {
        "careful": FitUp(fold_deg=0.05, square_deg=0.05, flat_deg=0.02, hole_mm=0.02),
        "usual": FitUp(),
        "far off": FitUp(fold_deg=6),
    }.items():
        checks = fit_up_checks(with_inputs(folded, folded.bracket.but(fit_up=fit)))
        names[word] = {check.name for check in checks}
        verdicts[word] = verdict_of(checks, (), None, (), folded.bracket.limits, solved=True, refined=True)
    assert [verdict for verdict, _ in verdicts.values()] == ["pass", "marginal", "fail"]
    assert any("steering may bind" in reason for reason in verdicts["usual"][1])
    assert any(reason.startswith("fit-up stress, plate") for reason in verdicts["far off"][1])
    assert {"fit-up gap", "fit-up holes", "fit-up pull", "fit-up bearing"} <= names["usual"]
    assert fit_up_checks(folded) == []


def test_a_gap_past_its_limit_names_the_shim() -> None:
    """A strap of 110 mm turned by t leaves 110 t; the other turns the casing too, with bosses 80 mm apart."""
    bracket = straps("side by side", column=NO_BEARINGS).but(fit_up=FitUp(flat_deg=1.0))
    results = analyse(bracket, refine=False)
    gap = next(check for check in results.checks if check.name == "fit-up gap")
    assert gap.used > 1.0
    turn = np.radians(1.0)
    source = "length x turn (closed form)"
    agrees(gap.demand, turn * (110 + np.hypot(110, 80)), 0.01, source=source, name="gap of two straps, mm")
    assert "55% of it from strap" in gap.note
    assert "out of flat; a shim of 3.3 to 4.2 mm, as the gap is measured, has to go in" in gap.note
    assert gap.kind == "share"
    assert not [check for check in results.checks if check.name == "fit-up bearing"]
    assert any("plates out of flat by 1 deg" in words for words in results.assumptions)
    finer = bracket.but(fit_up=FitUp(flat_deg=0.1))
    assert any("plate out of flat, deg: 0.1, more lenient" in w for w in assumptions_of(finer, {})[1])


@pytest.mark.qualitative
def test_every_plate_between_casing_and_bar_may_be_out_of_flat() -> None:
    """Of two plates bolted together the one at the bar is no flatter than the one at the casing."""
    bracket = read_bracket(SAMPLES / "two_piece_bolted.bracket.json").bracket
    assert bracket is not None
    plates = [plate.condensed for plate in meshed(bracket, 25.0)]
    errors = fit_errors(FitUp(), plates)
    for plate in plates:
        assert f"{plate.plate.name} out of flat" in errors.names
