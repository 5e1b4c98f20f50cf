"""What ink says that only the first mesh is asked for, which is worked out beside the refined mesh.

Glossary
--------
asides  how sure each check is, what hangs on the footprints, what friction alone holds, how supple plates are
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from geometry.bracket import Bracket
from geometry.placing import place_bolts
from geometry.solid_mesh import SolidMesh
from geometry.wanted import still_wanted
from solver.how_sure import HowSure, how_sure, used_on_first, used_shares
from solver.kept_plates import KeptPlates
from solver.results import Swing
from solver.sensitivity import FootprintSensitivity, footprint_sensitivity, on_other_beds
from solver.stages import Stage, stage_on
from solver.suppleness import Suppleness


@dataclass(frozen=True)
class Asides:
    """What the first mesh says beside the checks."""

    sure: HowSure
    footprints: str
    """What hangs on the model of the footprints, in words."""
    friction_fails_nm: float | None
    suppleness: tuple[Suppleness, ...]
    """Of each plate."""
    swing: Swing | None
    """The casing's slowest natural motion on its mounting."""


def asides_of(bracket: Bracket, first: Stage, kept: KeptPlates) -> Asides:
    """Return the asides of a bracket on its `first` mesh, condensed with its plates' studies.

    ValueError without studies.
    """
    sure, footprints = how_sure_of(bracket, first, kept)
    return Asides(sure, footprints.words, first.friction_fails_nm, first.suppleness, first.swing)


def how_sure_of(bracket: Bracket, first: Stage, kept: KeptPlates) -> tuple[HowSure, FootprintSensitivity]:
    """Return how sure each check is, and what hangs on the footprints; as `asides_of`."""
    usual = used_on_first(first)
    others = list(on_other_beds(bracket, first.meshed, first.solved))
    on_beds = [used_shares(other, first.couple_nm) for other in others]
    still_wanted()
    sure = how_sure(bracket, first, kept, usual, on_beds)
    still_wanted()
    pairs = list(zip(others, on_beds, strict=True))
    return sure, footprint_sensitivity(first.solved, first.couple_nm, usual, pairs)


def asides_alone(bracket: Bracket, meshes: Sequence[SolidMesh], kept: KeptPlates) -> Asides:
    """Return the asides of a bracket whose first `meshes` are solved for them; SolverError as `analyse`."""
    first = stage_on(bracket, kept.first(bracket, place_bolts(bracket), meshes))
    still_wanted()
    try:
        return asides_of(bracket, first, kept)
    finally:
        first.let_go()
