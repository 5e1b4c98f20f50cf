"""How fast the casing swings on its mounting by itself.

Casing, plates and dash bar have mass; the plates' is condensed to their bolts by the same fields as their
stiffness (Guyan, Reduction of stiffness and mass matrices, AIAA Journal 3, 1965, from memory), which makes
the frequency a little too high, never too low; for the lowest motions the casing's own mass rules.
"""

from __future__ import annotations

import math

import numpy as np
from scipy.linalg import eigh

from geometry.bracket import Bracket
from geometry.materials import material
from solver.condensed_plate import CondensedPlate
from solver.mass import beam_mass, casing_mass, mass_of_fields
from solver.results import Check, Swing
from solver.rigid import Floats
from solver.structure import Structure

NAME = "natural frequency"
ABOVE_FIRING = 1.3
"""How far the natural frequency is to lie above the engine's firing at idle (common practice, no source)."""
BAND = 0.05
"""How sure it is: one mesh, mass condensed by static shapes, the casing as an even block."""
_NOTHING = 1e-30


def slowest_swing(bracket: Bracket, structure: Structure) -> Swing | None:
    """Return the slowest swing of a system with every connection stuck; None where nothing has mass."""
    mass = structure_mass(bracket, structure)
    held = slice(0, structure.stuck)
    stiffness = structure.stiffness[held, held]
    scale = 1.0 / np.sqrt(np.diag(stiffness))
    weighed = scale[:, None] * mass[held, held] * scale
    last = len(scale) - 1
    share, shape = eigh(weighed, stiffness * np.outer(scale, scale), subset_by_index=(last, last))
    if not share[0] > _NOTHING:
        return None
    casing = structure.casing_way[:, held] @ (scale * shape[:, 0])
    hz = 1.0 / (2.0 * math.pi * math.sqrt(float(share[0])))
    return Swing(hz, casing, _words(bracket, casing))


def frequency_checks(bracket: Bracket, swing: Swing | None) -> list[Check]:
    """Return the check of the slowest swing against the engine's firing; none while no engine is given."""
    engine = bracket.loads.engine
    if engine is None or swing is None:
        return []
    case = f"{engine.cylinders} cylinders, {engine.strokes} strokes, idling at {engine.idle_rpm:g} rpm"
    return [
        Check(
            NAME,
            ABOVE_FIRING * engine.firing_hz,
            swing.hz,
            "Hz",
            BAND,
            f"{ABOVE_FIRING:g} x firing frequency at idle (common practice, no source)",
            swing.words,
            case,
        )
    ]


def structure_mass(bracket: Bracket, structure: Structure) -> Floats:
    """Return the (n, n) mass over the unknowns of the system, in tonnes and mm."""
    size = structure.stiffness.shape[0]
    mass = np.zeros((size, size))
    if bracket.casing is not None:
        own = casing_mass(bracket.casing, structure.casing_at_mm)
        mass += structure.casing_way.T @ own @ structure.casing_way
    for way, plate in zip(structure.plate_ways, structure.plates, strict=True):
        mass += way.T @ plate_mass(plate) @ way
    model, bar = structure.bar, bracket.dash_bar
    if model is not None and bar is not None:
        density = material(bar.material, bracket.materials).density_kg_m3
        count = model.stiffness.shape[0]
        rows = slice(structure.bar_first, structure.bar_first + count)
        for i, length in enumerate(np.diff(model.stations_mm)):
            both = np.vstack([model.motions[i], model.motions[i + 1]])
            own = beam_mass(model.section, float(length), density, model.axes)
            mass[rows, rows] += both.T @ own @ both
    return 0.5 * (mass + mass.T)


def plate_mass(plate: CondensedPlate) -> Floats:
    """Return the (6 b, 6 b) mass of a plate over the motions of its bodies."""
    return mass_of_fields(plate.mesh, plate.metal.density_kg_m3, plate.modes[:, : 6 * plate.body_count])


def _words(bracket: Bracket, casing: Floats) -> str:
    """Return what the casing does, by what moves its block's corners most."""
    if bracket.casing is None:
        return "the plates swing"
    envelope = bracket.casing.envelope
    reach = 0.5 * float(np.linalg.norm(np.subtract(envelope.high_mm, envelope.low_mm)))
    sizes = np.abs(np.concatenate([casing[:3], casing[3:] * reach]))
    return (
        "the casing moves sideways",
        "the casing moves up and down",
        "the casing moves along the shaft",
        "the casing nods",
        "the casing swings from side to side",
        "the casing turns about the shaft",
    )[int(np.argmax(sizes))]
