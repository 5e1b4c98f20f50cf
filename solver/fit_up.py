"""What it takes to bring pieces together that are a little off, and what stays in them.

Before they are tightened, faces slide on each other within the clearance of their holes; gaps along the bolts
are then drawn together against the stiffness of plates, dash bar and column. All of it follows from the
condensed stiffness S of the plates: with the system K over the unknowns x, slips included, and the bodies'
motions W x, a shape d of the pieces asks for K x = W' S d, and puts S (W x - d) on the bodies. One connection
moved by e of its own while the rest is fast answers with B e, B = S - S W K^-1 W' S: so the gap that one
leaves which is open is B^-1 times the force that closes it.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from scipy.linalg import block_diag, eigh, pinvh

from geometry.bracket import Bracket
from geometry.fit_up import FitUp
from geometry.stiffness_ranges import SIDEWAYS, HighEnds, bearing_range, picked
from solver.connections import local_wrenches
from solver.fit_up_errors import FitErrors, fit_errors
from solver.rigid import Floats, carry
from solver.structure import Connection, Structure

_NOTHING = 1e-10
"""Share of the stiffest motion below which a motion is free."""
_TURN_MM = 10.0
"""Arm by which turns are weighed against shifts, about a footprint's radius."""


@dataclass(frozen=True)
class FitForces:
    """What each error does, columns as in `errors`; rows are connections, in the order of the structure."""

    errors: FitErrors
    connections: tuple[Connection, ...]
    gap_mm: Floats
    """(connections, columns) along the bolt, at one that is open while the rest is drawn up."""
    slide_mm: Floats
    """(connections, 2, columns) across the bolt, within the holes."""
    local: Floats
    """(connections, 6, columns) force and moment on the plates once all is drawn up."""
    amounts: tuple[Floats, ...]
    """Per plate (6 b + 3, columns) of its modes."""
    bearings_n: Floats
    """(bearings, 2, columns) side force on each bearing of the column."""


def fit_forces(bracket: Bracket, structure: Structure, fit: FitUp, high: HighEnds) -> FitForces:
    """Return what each error does; ranges in `high` are taken at their high end."""
    errors = fit_errors(fit, structure.plates)
    ways = np.vstack(structure.plate_ways)
    bodies = block_diag(*(plate.stiffness for plate in structure.plates))
    soft = _inverse(structure.stiffness)
    pushed = ways.T @ bodies
    unknowns = soft @ (pushed @ errors.shapes)
    strained = ways @ unknowns - errors.shapes
    wrenches = bodies @ strained
    held = bodies - pushed.T @ soft @ pushed
    firsts = np.cumsum([0, *(6 * plate.body_count for plate in structure.plates)])
    parts = [slice(a, b) for a, b in itertools.pairwise(firsts)]
    weight = np.zeros((3, errors.shapes.shape[1]))
    gaps, slides = [], []
    for connection in structure.connections:
        first = firsts[connection.plate] + 6 * connection.body
        rows = slice(first, first + 6)
        gaps.append(connection.axes[:, 2] @ _offset(held[rows, rows], wrenches[rows])[:3])
        slip = connection.first_slip
        slides.append(np.zeros_like(weight[:2]) if slip is None else unknowns[slip : slip + 2])
    return FitForces(
        errors,
        structure.connections,
        np.array(gaps),
        np.array(slides),
        local_wrenches(structure, [wrenches[part] for part in parts]),
        tuple(np.vstack([strained[part], weight]) for part in parts),
        _bearings(bracket, structure, unknowns, high),
    )


def _offset(held: Floats, wrench: Floats) -> Floats:
    """Return the (6, columns) offset that takes the wrenches off one connection."""
    weights = np.array([1.0] * 3 + [1.0 / _TURN_MM] * 3)
    even = held * np.outer(weights, weights)
    inverse = pinvh(0.5 * (even + even.T), rtol=1e-7)
    return np.asarray(-weights[:, None] * (inverse @ (weights[:, None] * wrench)))


def _inverse(stiffness: Floats) -> Floats:
    """Return the inverse over all that is held; what moves freely stays where it is."""
    scale = 1.0 / np.sqrt(np.diag(stiffness))
    sizes, shapes = eigh(stiffness * np.outer(scale, scale))
    kept = sizes > _NOTHING * sizes[-1]
    half = scale[:, None] * shapes[:, kept]
    return np.asarray((half / sizes[kept]) @ half.T)


def _bearings(bracket: Bracket, structure: Structure, unknowns: Floats, high: HighEnds) -> Floats:
    column = bracket.column
    held: list[tuple[float, float]] = []
    if column.held_by == "bearings":
        held = [
            (b.station_mm, picked(b.stiffness_n_per_mm, bearing_range(i), high))
            for i, b in enumerate(column.bearings)
        ]
    elif column.held_by == "donor mount" and column.mount is not None:
        held = [(column.mount.station_mm, picked(column.mount.sideways_n_per_mm, SIDEWAYS, high))]
    casing = structure.casing_way @ unknowns
    forces = [k * (carry(structure.casing_at_mm, [0.0, 0.0, at]) @ casing)[:2] for at, k in held]
    return np.array(forces).reshape(len(held), 2, unknowns.shape[1])
