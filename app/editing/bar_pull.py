"""A pull at the middle of the dash bar gives its ends their measured stiffness, with its source."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from app.editing.refused import EditRefused
from app.wording.figures import figure
from geometry.bracket import Bracket
from geometry.fixing import BarEnd
from geometry.materials import UnknownMaterialError, material

if TYPE_CHECKING:
    from solver.proof_stiffness import Measured

IMMOVABLE_NM_PER_DEG: Final = 1e6
"""High end where the gauge cannot tell an end from a weld: some thousand times what a bar bends by."""


@dataclass(frozen=True)
class BarReadings:
    """What was pulled and read."""

    pull_n: float
    middle_mm: float
    """How far the middle moved the way of the pull."""
    ends_mm: tuple[float, float]
    """How far each end moved the same way."""
    who: str
    """Who read it, and how."""


@dataclass(frozen=True)
class BarAnswer:
    """What the readings give."""

    ends: tuple[BarEnd, BarEnd]
    words: str


def bar_answer(bracket: Bracket, read: BarReadings) -> BarAnswer:
    """Return the bar's ends as measured, and that in a sentence; EditRefused if the readings give none."""
    from solver.proof_readings import ProofError
    from solver.proof_stiffness import bar_end_stiffness

    bar = bracket.dash_bar
    if bar is None:
        raise EditRefused("There is no dash bar to measure: put it in first.")
    try:
        metal = material(bar.material, bracket.materials)
    except UnknownMaterialError:
        raise EditRefused(
            f"The material of {bar.name}, {bar.material}, is not known: name it first."
        ) from None
    moved = read.middle_mm - math.fsum(read.ends_mm) / 2.0
    try:
        found = bar_end_stiffness(bar, metal.elastic_modulus_mpa, metal.poisson, read.pull_n, moved)
    except ProofError as error:
        said = str(error)
        raise EditRefused(f"{said[:1].upper()}{said[1:]}.") from error
    source = (
        f"measured: {read.pull_n:.4g} N at its middle moved it {read.middle_mm:.3g} mm, the ends"
        f" {read.ends_mm[0]:.3g} and {read.ends_mm[1]:.3g} mm; read by {read.who.strip() or 'nobody named'}"
    )
    high = IMMOVABLE_NM_PER_DEG if found.high is None else found.high
    end = BarEnd(kind="stiffness", bending_nm_per_deg=(found.low, high), seen_by=source[:200])
    return BarAnswer((end, end), f"Each end of {bar.name}: {stiffness_words(found)}, {source}.")


def with_measured_ends(bracket: Bracket, read: BarReadings) -> Bracket:
    """Return the bracket with the ends of its dash bar as measured; EditRefused as `bar_answer`."""
    answer = bar_answer(bracket, read)
    bar = bracket.dash_bar
    return bracket if bar is None else bracket.but(dash_bar=bar.but(ends=answer.ends))


def stiffness_words(found: Measured) -> str:
    """Return a measured stiffness with how far the gauge tells."""
    if found.high is None:
        return f"{figure(found.low)} N.m/deg or more, as far as the gauge tells"
    band = f"{figure(found.low)} to {figure(found.high)}"
    return f"{figure(found.nm_per_deg)} N.m/deg ({band} N.m/deg as far as the gauge tells)"
