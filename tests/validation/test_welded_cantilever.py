"""A welded cantilever through the whole solver: beam theory for what it carries, its weld and how it bends.

The strip's metal has no sideways contraction, so that it is a beam at any width. The root of a beam on a
half-space turns by 16.67 M / (pi E t2) for a unit of width besides (O'Donnell, Journal of Applied Mechanics
27, 1960, from memory, to be verified); the weld's own layer adds 1.2 M / (E t2) (own estimate, 1 % here).
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
import pytest

from solver.evaluation import loaded
from solver.solved import Solved
from solver.weld_checks import weld_checks
from solver.weld_forces import segment_wrenches, sheet_stresses, throat_cases, whole_wrench
from solver.weld_throat import equivalent_mpa
from tests.brackets import solved_once, welded_strip
from tests.validation.reference import agrees

BEAM = "beam theory, a welded strip (closed form)"
ROOT = "beam theory with O'Donnell's root, a welded strip (from memory, to be verified)"
WIDTH, LENGTH, THICKNESS, THROAT = 40.0, 120.0, 6.0, 4.0
MODULUS = 210_000.0
MOMENT_NMM = 10_000.0
"""About the axis across the car, which bends the strip out of its plane."""


@lru_cache(maxsize=1)
def _strip() -> Solved:
    return solved_once(welded_strip(WIDTH, LENGTH, THICKNESS, THROAT), 3.0, layers=2)


def _deflection_mm(load: int, height_mm: float) -> tuple[float, float]:
    """Return how far the middle of the strip moves out of its plane, and the height that was looked at."""
    whole = _strip()
    plate, state = whole.plates[0], whole.states[0]
    flat = plate.mesh.flat_points[: plate.mesh.n_flat, :2]
    node = int(np.argmin(np.linalg.norm(flat - np.array([0.0, height_mm]), axis=1)))
    moved = plate.modes[3 * node + 2] @ state.amounts[0]
    return float(moved[load]), float(flat[node, 1])


def test_strip_bends_as_a_beam_held_by_its_weld() -> None:
    moved, height = _deflection_mm(3, 70.0)
    inertia = WIDTH * THICKNESS**3 / 12.0
    root = (16.67 / math.pi + 1.2) / (MODULUS * THICKNESS**2 * WIDTH)
    beam = height**2 / (2.0 * MODULUS * inertia) + root * height
    agrees(moved / beam, 1.0, 0.01, source=ROOT, name="deflection of a welded strip under a moment")


def test_strip_bends_under_a_force_at_its_end() -> None:
    moved, height = _deflection_mm(2, 70.0)
    inertia = WIDTH * THICKNESS**3 / 12.0
    arm = float(_strip().states[0].structure.casing_at_mm[1])
    root = (16.67 / math.pi + 1.2) / (MODULUS * THICKNESS**2 * WIDTH)
    bending = (arm * height**2 / 2.0 - height**3 / 6.0) / (MODULUS * inertia)
    shear = height / (5.0 / 6.0 * MODULUS / 2.0 * WIDTH * THICKNESS)
    beam = bending + shear + root * arm * height
    agrees(moved / beam, 1.0, 0.015, source=ROOT, name="deflection of a welded strip under a force")


def test_root_stress_of_the_sheet() -> None:
    whole = _strip()
    state = whole.states[0]
    unit = segment_wrenches(state.structure, state.amounts)[:, :, 3:4] * MOMENT_NMM
    stresses = []
    for number, joint in enumerate(state.structure.welds):
        length = joint.segment.length_mm
        direct, _ = sheet_stresses(joint.segment.place, unit[number], length, THICKNESS)
        stresses.append(float(np.abs(direct).max()))
    beam = 6.0 * MOMENT_NMM / (WIDTH * THICKNESS**2)
    agrees(max(stresses), beam, 0.02, source=BEAM, name="bending stress at the foot of a welded strip, MPa")


def test_throats_carry_the_moment_as_a_pair() -> None:
    whole = _strip()
    state = whole.states[0]
    unit = segment_wrenches(state.structure, state.amounts)[:, :, 3:4] * MOMENT_NMM
    worst = 0.0
    for number, joint in enumerate(state.structure.welds):
        cases = throat_cases(joint.segment.place, unit[number], joint.segment.length_mm, THICKNESS)
        worst = max(worst, *(float(equivalent_mpa(*case)[0]) for case in cases))
    # M / t over the length on either throat, at 45 deg: sigma = tau = q / (sqrt 2 a), so 2 q / (sqrt 2 a).
    line = MOMENT_NMM / THICKNESS / WIDTH
    published = math.sqrt(2.0) * line / THROAT
    agrees(worst, published, 0.02, source=BEAM, name="equivalent stress of a pair of throats, MPa")


@pytest.mark.parametrize("load", [0, 1, 2])
def test_weld_carries_what_the_casing_is_pushed_with(load: int) -> None:
    state = _strip().states[0]
    wrenches = segment_wrenches(state.structure, state.amounts)
    whole = whole_wrench(state.structure, range(len(state.structure.welds)), wrenches)[:, load]
    place = state.structure.welds[0].segment.place
    force = place.frame @ whole[:3]
    wanted = -np.eye(3)[load]
    arm = state.structure.casing_at_mm - place.ends_mm.mean(axis=0)
    moment = place.frame @ whole[3:]
    agrees(
        float(force @ wanted),
        1.0,
        1e-6,
        source="statics of a welded strip (closed form)",
        name=f"force on the weld along axis {load}, N",
    )
    off = float(np.linalg.norm(moment + np.cross(arm, np.eye(3)[load])))
    agrees(
        off,
        0.0,
        1e-6,
        source="statics of a welded strip (closed form)",
        name=f"moment on the weld less F x r, axis {load}",
        scale=100.0,
    )


def test_in_plane_moment_spreads_along_the_weld_as_in_a_beam() -> None:
    state = _strip().states[0]
    wrenches = segment_wrenches(state.structure, state.amounts)[:, :, 5]
    lengths = [joint.segment.length_mm for joint in state.structure.welds]
    # Of 6 M / L2 at the very end, the outer of four even parts takes its mean, (1 - 1/4), and its own slope.
    ends = [
        abs(wrench[1]) / length + 6.0 * abs(wrench[5]) / length**2
        for wrench, length in zip(wrenches, lengths, strict=True)
    ]
    assert len(lengths) == 4
    published = 6.0 / WIDTH**2
    agrees(max(ends), published, 0.02, source=BEAM, name="line force at a weld's end for 1 N.mm, N/mm")


@pytest.mark.qualitative
def test_hand_figure_lies_near_the_check() -> None:
    whole = _strip()
    load = loaded(whole.states, whole.cases, 30.0)
    check = next(c for c in weld_checks(whole, load) if c.name == "weld foot")
    assert check.by_hand is not None
    assert check.demand == pytest.approx(check.by_hand, rel=0.5)
