"""What ink says that only the first mesh is asked for, which is worked out beside the refined mesh.

Glossary
--------
asides  how sure each check is, what hangs on the footprints, what friction alone holds, how supple plates are
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from geometry.bracket import Bracket
from geometry.placing import place_bolts
from solver.how_sure import HowSure, how_sure
from solver.kept_plates import KeptPlates
from solver.results import Swing
from solver.sensitivity import footprint_sensitivity
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


def asides_of(
    bracket: Bracket, first: Stage, kept: KeptPlates, still_asked: Callable[[], None] = lambda: None
) -> Asides:
    """Return the asides of a bracket on its `first` mesh, condensed with its plates' studies.

    `still_asked` is called between parts of the work; what it raises ends it. ValueError without studies.
    """
    sure = how_sure(bracket, first, kept, still_asked)
    still_asked()
    words = footprint_sensitivity(bracket, first.meshed, first.solved, first.couple_nm).words
    return Asides(sure, words, first.friction_fails_nm, first.suppleness, first.swing)


def asides_alone(bracket: Bracket, kept: KeptPlates, still_asked: Callable[[], None]) -> Asides:
    """Return the asides of a bracket on a first mesh made for them; SolverError as `analyse`."""
    first = stage_on(bracket, kept.first(bracket, place_bolts(bracket)))
    still_asked()
    try:
        return asides_of(bracket, first, kept, still_asked)
    finally:
        first.let_go()
