"""A bracket against its mirror image, on the mirror image of its mesh: the couple turns the other way."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from app.editing.other_hand import for_other_hand
from geometry.bracket import Bracket
from geometry.placing import place_bolts
from geometry.solid_mesh import Floats, Ints, SolidMesh
from solver.kept_plates import KeptPlates
from solver.mesh_stage import meshed_plate
from solver.results import Check
from solver.stages import Stage, stage_on
from solver.verdict import failures

CLOSE: Final = 1e-6
_TET: Final = [1, 0, 2, 3, 4, 6, 5, 8, 7, 9]
"""A tetrahedron with its first two corners exchanged: the middles of 12 and 02, and of 03 and 13, as well."""
_FACE: Final = [1, 0, 2, 3, 5, 4]


def mirror_problems(bracket: Bracket, kept: KeptPlates) -> Iterator[str]:
    """Yield every check that the mirror image does not answer alike."""
    if for_other_hand(for_other_hand(bracket)) != bracket:
        yield "mirrored twice it is another bracket"
    other = for_other_hand(bracket)
    places = place_bolts(bracket)
    here = stage_on(bracket, kept.first(bracket, places))
    there = _mirrored(other, here)
    found = {check.name: check for check in there.checked.checks}
    if found.keys() != {check.name for check in here.checked.checks}:
        yield "its mirror image has other checks"
        return
    # A lean far smaller than the turn is what is left of larger motions: it settles no better than they do.
    turned = max((c.demand for c in here.checked.checks if c.name == "turn"), default=0.0)
    for check in here.checked.checks:
        image = found[check.name]
        if not _alike(check, image, turned if check.name == "lean" else 0.0):
            yield f"{check.name} of its mirror image: {image.demand!r}, not {check.demand!r}"
    if bool(failures(here.checked.checks, ())) != bool(failures(there.checked.checks, ())):
        yield "its mirror image ends otherwise"


def _mirrored(other: Bracket, here: Stage) -> Stage:
    places = place_bolts(other)
    plates = [
        meshed_plate(other, index, mirrored_mesh(meshed.condensed.mesh), places)
        for index, meshed in enumerate(here.meshed)
    ]
    return stage_on(other, tuple(plates))


def mirrored_mesh(mesh: SolidMesh) -> SolidMesh:
    """Return a plate's mesh with X against X, turned right side out again."""
    return replace(
        mesh,
        points=_against(mesh.points),
        flat_points=_against(mesh.flat_points),
        tets=mesh.tets[:, _TET],
        patches={name: faces[:, _FACE] for name, faces in mesh.patches.items()},
        flat_triangles=_turned(mesh.flat_triangles),
    )


def _turned(triangles: Ints) -> Ints:
    return triangles[:, _FACE] if len(triangles) else triangles


def _against(points: Floats) -> Floats:
    mirrored: Floats = points * np.array([-1.0, 1.0, 1.0])
    return mirrored


def _alike(check: Check, image: Check, of_least: float) -> bool:
    if math.isinf(check.demand) or math.isinf(image.demand):
        return check.demand == image.demand
    scale = max(abs(check.demand), 1e-6 * check.allowable, of_least)
    return abs(check.demand - image.demand) <= CLOSE * scale
