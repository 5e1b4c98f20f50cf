"""A bracket solved on one mesh: everything that checks, holds-to and quick answers are worked out from."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from geometry.bracket import Bracket
from geometry.placing import BoltPlace, place_bolts
from solver.clamped_bolt import ClampedBolt, clamped_bolts
from solver.condensed_plate import CondensedPlate
from solver.evaluation import State, states_of
from solver.linkage import Linkage, linkage_of
from solver.load_cases import LoadCase, couple_as_measured, load_cases
from solver.net_section import NetSection
from solver.stress_survey import StressSurvey


@dataclass(frozen=True)
class Solved:
    """A bracket with its plates condensed, its states answered and its bolts known."""

    bracket: Bracket
    places: tuple[BoltPlace, ...]
    linkage: Linkage
    plates: tuple[CondensedPlate, ...]
    """In the order of bracket.plates."""
    surveys: tuple[StressSurvey, ...]
    sections: tuple[NetSection, ...]
    bolts: dict[str, ClampedBolt]
    cases: tuple[LoadCase, ...]
    """Every load case, then the couple as measured."""
    states: tuple[State, ...]
    out: frozenset[str] = frozenset()
    slipped: frozenset[str] = frozenset()
    """Bolts taken as pins in every state."""


def solved(
    bracket: Bracket,
    plates: Sequence[CondensedPlate],
    surveys: Sequence[StressSurvey],
    sections: Sequence[NetSection],
) -> Solved:
    """Return the bracket solved for plates that are condensed already."""
    places = place_bolts(bracket)
    linkage = linkage_of(bracket, places)
    cases = (*load_cases(bracket), couple_as_measured())
    return Solved(
        bracket,
        places,
        linkage,
        tuple(plates),
        tuple(surveys),
        tuple(sections),
        clamped_bolts(bracket, places),
        cases,
        states_of(bracket, plates, linkage, cases),
    )


def with_bolts(whole: Solved, *, out: Collection[str] = (), slipped: Collection[str] = ()) -> Solved:
    """Return the bracket with bolts taken out or slipped, for movements and forces at once.

    Beds of bolts that are out stay in the plates.
    """
    linkage = linkage_of(whole.bracket, whole.places, out=out)
    return replace(
        whole,
        linkage=linkage,
        states=states_of(whole.bracket, whole.plates, linkage, whole.cases, out=out, slipped=slipped),
        out=frozenset(out),
        slipped=frozenset(slipped),
    )


def with_inputs(whole: Solved, bracket: Bracket) -> Solved:
    """Return the same plates under other loads, limits, torque, preload, friction, column or dash bar.

    `bracket` may differ from the solved one in anything that leaves plates and places of bolts as they are.
    """
    places = place_bolts(bracket)
    linkage = linkage_of(bracket, places)
    cases = (*load_cases(bracket), couple_as_measured())
    return replace(
        whole,
        bracket=bracket,
        places=places,
        linkage=linkage,
        bolts=clamped_bolts(bracket, places),
        cases=cases,
        states=states_of(bracket, whole.plates, linkage, cases),
    )
