"""A bracket solved on one mesh: everything that checks, holds-to and quick answers are worked out from."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from geometry.bracket import Bracket
from geometry.fixing import Bolt
from geometry.placing import BoltPlace, place_bolts
from solver.bar_nets import BarNet, bar_nets
from solver.clamped_bolt import ClampedBolt, clamped_bolts
from solver.condensed_plate import CondensedPlate
from solver.evaluation import State, states_of, with_cases
from solver.friction import lash_deg
from solver.linkage import Linkage, linkage_of
from solver.load_cases import LoadCase, couple_as_measured, load_cases
from solver.net_section import NetSection
from solver.stress_survey import StressSurvey

if TYPE_CHECKING:
    from solver.swinging import Swinging


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
    lash_deg: float
    """Whole turn of the casing, hard against the holes both ways; inf if nothing stops it."""
    out: frozenset[str] = frozenset()
    slipped: frozenset[str] = frozenset()
    """Bolts taken as pins in every state."""

    @cached_property
    def swinging(self) -> tuple[Swinging, ...]:
        """Return everything that swings with the couple, worked out when it is first asked for."""
        # late: it looks at this class
        from solver.fatigue import swinging_of

        return swinging_of(self)

    @cached_property
    def bar_nets(self) -> tuple[BarNet, ...]:
        """Return the dash bar's sections through the holes of bolts that are in; they hang on no load."""
        bar, model = self.bracket.dash_bar, self.states[0].structure.bar
        if bar is None or model is None:
            return ()
        return tuple(net for net in bar_nets(bar, model, self.places) if net.bolt not in self.out)

    def light(self) -> Solved:
        """Return what can be solved again with bolts out, without what takes much room: modes and states."""
        plates = tuple(replace(plate, modes=plate.modes[:0]) for plate in self.plates)
        surveys = tuple(replace(own, plate=plate) for own, plate in zip(self.surveys, plates, strict=True))
        return replace(self, plates=plates, surveys=surveys, states=())


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
    bolts = clamped_bolts(bracket, places)
    return Solved(
        bracket,
        places,
        linkage,
        tuple(plates),
        tuple(surveys),
        tuple(sections),
        bolts,
        cases,
        states_of(bracket, plates, linkage, cases),
        _lash_deg(linkage, bolts),
    )


def with_plates(
    whole: Solved,
    plates: Sequence[CondensedPlate],
    surveys: Sequence[StressSurvey],
    sections: Sequence[NetSection],
) -> Solved:
    """Return the same bracket solved for its plates condensed otherwise: on other meshes, or thinner."""
    return replace(
        whole,
        plates=tuple(plates),
        surveys=tuple(surveys),
        sections=tuple(sections),
        states=states_of(whole.bracket, plates, whole.linkage, whole.cases),
    )


def with_bolts(
    whole: Solved,
    *,
    out: Collection[str] = (),
    slipped: Collection[str] = (),
    linkage: Linkage | None = None,
    lash: bool = True,
) -> Solved:
    """Return the bracket with bolts taken out or slipped, for movements and forces at once.

    Beds of bolts that are out stay in the plates. `linkage` is that without the bolts that are out, where it
    is known already; without `lash` what the whole bracket has of it is left.
    """
    if linkage is None:
        linkage = linkage_of(whole.bracket, whole.places, out=out) if out else whole.linkage
    return replace(
        whole,
        linkage=linkage,
        states=states_of(whole.bracket, whole.plates, linkage, whole.cases, out=out, slipped=slipped),
        lash_deg=_lash_deg(linkage, whole.bolts) if out and lash else whole.lash_deg,
        out=frozenset(out),
        slipped=frozenset(slipped),
    )


def with_inputs(whole: Solved, bracket: Bracket) -> Solved:
    """Return the same plates under other loads, limits, torque, preload, friction, column or dash bar.

    `bracket` may differ from the solved one in anything that leaves the plates as they are.
    """
    same_places = _alike(whole.bracket, bracket, ("plates", "welds", "casing", "dash_bar", "anchors"))
    same_places = same_places and same_joints(whole.bracket, bracket)
    same_stiffness = same_places and _alike(whole.bracket, bracket, ("column", "materials"))
    same_bolts = same_places and whole.bracket.bolts == bracket.bolts
    places = whole.places if same_places else place_bolts(bracket)
    plates = whole.plates if same_places else _placed_anew(whole.plates, places)
    linkage = whole.linkage if same_stiffness else linkage_of(bracket, places)
    cases = (*load_cases(bracket), couple_as_measured())
    bolts = whole.bolts if same_bolts else clamped_bolts(bracket, places)
    if same_stiffness and not (whole.out or whole.slipped):
        states = with_cases(whole.states, bracket, plates, linkage, cases)
    else:
        states = states_of(bracket, plates, linkage, cases)
    factor = whole.bracket.limits.yield_factor / bracket.limits.yield_factor
    return replace(
        whole,
        bracket=bracket,
        places=places,
        linkage=linkage,
        plates=plates,
        surveys=tuple(replace(s, allowable_mpa=factor * s.allowable_mpa) for s in whole.surveys),
        bolts=bolts,
        cases=cases,
        states=states,
        lash_deg=whole.lash_deg if same_stiffness else _lash_deg(linkage, bolts),
        out=frozenset(),
        slipped=frozenset(),
    )


def _placed_anew(plates: Sequence[CondensedPlate], places: Sequence[BoltPlace]) -> tuple[CondensedPlate, ...]:
    """Return the plates with the same rings; the partners of their bolts may stand elsewhere."""
    return tuple(
        replace(plate, places=tuple(p for p in places if p.plate_index == index))
        for index, plate in enumerate(plates)
    )


def _alike(one: Bracket, other: Bracket, parts: Sequence[str]) -> bool:
    return all(getattr(one, part) == getattr(other, part) for part in parts)


def same_joints(one: Bracket, other: Bracket) -> bool:
    """Return whether bolts differ at most in what neither moves them nor makes them stiffer."""
    loose = {
        "grade": None,
        "preload_n": None,
        "scatter": 0.0,
        "face_friction": None,
        "thread_friction": 0.1,
        "prevailing_nm": None,
    }
    return len(one.bolts) == len(other.bolts) and all(
        a is b
        or (
            a.model_copy(update=loose | {"tightening_nm": None})
            == b.model_copy(update=loose | {"tightening_nm": None})
            # Without any preload a spacer is no spacer: its bare bolt carries.
            and (_tightened(a) == _tightened(b) or a.spacer is None)
        )
        for a, b in zip(one.bolts, other.bolts, strict=True)
    )


def _tightened(bolt: Bolt) -> bool:
    return bolt.preload_n is not None or bolt.tightening_nm is not None


def _lash_deg(linkage: Linkage, bolts: Mapping[str, ClampedBolt]) -> float:
    return lash_deg(linkage, {name: bolt.clearance_mm for name, bolt in bolts.items()})
