"""Welds on the edges of plates: laid, changed and taken away; `kept_welds` keeps them to their edges.

Which edge stands on what is found in space, so nobody has to name it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from app.editing.kept_welds import shares_of_line
from app.editing.names import checked_name, in_the_habit, plate_of
from app.editing.possible import possible
from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from geometry.findings_welds import LARGEST_SHARE, bridged_gap_mm
from geometry.fixing import AtAnchor, AtDashBar
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import Line
from geometry.plate import Plate
from geometry.weld import AtPlate, Sides, Weld, WeldPartner
from geometry.weld_places import WeldPlace, edge_under, place_weld

STEP_MM: Final = 0.5
"""Throats are laid in steps of this, rounded down."""


def weld_edge(bracket: Bracket, plate_name: str, index: int) -> Bracket:
    """Return the bracket with an edge of a plate's outline welded on both sides to what it stands on.

    `index` is that of the corner the edge starts at. The weld is as long as the edge is straight, and as
    large as the sheet takes. EditRefused if the edge is an arc, is welded already or stands on nothing.
    """
    plate = plate_of(bracket, plate_name)
    edge = _straight(plate, index)
    taken = welded_along(bracket, plate_name, index)
    if taken:
        raise EditRefused(f"edge {index + 1} is welded already, by weld {taken[0]}; change that one instead")
    name = in_the_habit([weld.name for weld in bracket.welds], "weld").removeprefix("weld ")
    bare = Weld(name=name, plate=plate_name, from_mm=edge.start, to_mm=edge.end, joins=AtDashBar())
    found = min(_standing(bracket, bare), key=lambda pair: pair[0], default=None)
    if found is None:
        raise EditRefused(
            f"edge {index + 1} of plate {plate_name} stands on no plate, bar or anchor along its length; move"
            " the plate up to what it is to be welded to"
        )
    partner, place = found[1], found[2]
    throat = max(math.floor(LARGEST_SHARE * place.thinner_mm / STEP_MM + 1e-9) * STEP_MM, STEP_MM)
    return bracket.with_weld(bare.but(joins=partner, throat_mm=throat))


def welded_along(bracket: Bracket, plate_name: str, index: int) -> tuple[str, ...]:
    """Return the names of the welds on one edge of a plate's outline."""
    plate = plate_of(bracket, plate_name)
    try:
        edge = _straight(plate, index)
    except EditRefused:
        return ()
    return tuple(
        weld.name
        for weld in bracket.welds
        if weld.plate == plate_name and shares_of_line(edge.start, edge.end, weld) is not None
    )


def with_sides(bracket: Bracket, name: str, sides: Sides) -> Bracket:
    """Return the bracket with a weld laid along other faces of its sheet; EditRefused if there is none."""
    return bracket.with_weld(_weld(bracket, name).but(sides=sides))


def remove_weld(bracket: Bracket, name: str) -> Bracket:
    """Return the bracket without a weld; EditRefused if there is none of that name."""
    _weld(bracket, name)
    return bracket.without_weld(name)


def rename_weld(bracket: Bracket, old: str, new: str) -> Bracket:
    """Return the bracket with a weld renamed; EditRefused for a name that is taken or none."""
    called = checked_name(new, {weld.name for weld in bracket.welds} - {old}, f"weld {old}")
    return bracket.but(welds=tuple(w.but(name=called) if w.name == old else w for w in bracket.welds))


def with_plate_named(bracket: Bracket, old: str, new: str) -> Bracket:
    """Return the bracket with the welds of a renamed plate, and those to it, following."""
    welds = []
    for weld in bracket.welds:
        joins = weld.joins
        if isinstance(joins, AtPlate) and joins.plate == old:
            joins = joins.but(plate=new)
        welds.append(weld.but(plate=new if weld.plate == old else weld.plate, joins=joins))
    return bracket.but(welds=tuple(welds))


def with_anchor_named(bracket: Bracket, old: str, new: str) -> Bracket:
    """Return the bracket with the welds to a renamed anchor following."""
    return bracket.but(
        welds=tuple(
            w.but(joins=w.joins.but(anchor=new))
            if isinstance(w.joins, AtAnchor) and w.joins.anchor == old
            else w
            for w in bracket.welds
        )
    )


def without_plate(bracket: Bracket, name: str) -> Bracket:
    """Return the bracket without the welds of a plate and those to it."""
    return bracket.but(welds=tuple(w for w in bracket.welds if not _is_of(w, name)))


def refuse_welded(bracket: Bracket, name: str, deed: str) -> None:
    """Raise EditRefused if a plate has a weld, on its edges or on its faces."""
    for weld in bracket.welds:
        if _is_of(weld, name):
            raise EditRefused(
                f"plate {name} cannot be {deed} while weld {weld.name} is on it: take it out first"
            )


def _weld(bracket: Bracket, name: str) -> Weld:
    try:
        return bracket.weld(name)
    except KeyError as fault:
        raise EditRefused(f"{fault.args[0]}; choose one of these") from None


def _is_of(weld: Weld, plate: str) -> bool:
    return weld.plate == plate or (isinstance(weld.joins, AtPlate) and weld.joins.plate == plate)


def _straight(plate: Plate, index: int) -> Line:
    """Return the straight part of an edge, between what rounds its corners."""
    corners = plate.outline
    if not 0 <= index < len(corners):
        raise EditRefused(f"plate {plate.name} has no edge {index + 1}; choose one of its {len(corners)}")
    if corners[index].arc_via_mm is not None:
        raise EditRefused(f"edge {index + 1} is an arc, and only straight edges are welded; make it straight")
    with possible(plate, "welded"):
        outline = flat_pattern(plate).outline
    a, b = corners[index].at_mm, corners[(index + 1) % len(corners)].at_mm
    way = np.subtract(b, a) / math.dist(a, b)
    aside = np.array([-way[1], way[0]])
    for edge in outline:
        if not isinstance(edge, Line):
            continue
        offs = [abs(float(np.subtract(end, a) @ aside)) for end in (edge.start, edge.end)]
        middle = float(np.subtract(np.add(edge.start, edge.end) / 2.0, a) @ way)
        if max(offs) < 1e-6 and 0.0 < middle < math.dist(a, b):
            return edge
    raise EditRefused(f"nothing of edge {index + 1} is straight between its roundings; round them less")


def _standing(bracket: Bracket, weld: Weld) -> Iterator[tuple[float, WeldPartner, WeldPlace]]:
    """Yield what an edge stands on along its whole length, each with how far off it is."""
    partners: list[WeldPartner] = [AtPlate(plate=p.name) for p in bracket.plates if p.name != weld.plate]
    partners += [AtAnchor(anchor=a.name) for a in bracket.anchors if a.at_mm is not None]
    partners += [] if bracket.dash_bar is None else [AtDashBar()]
    for partner in partners:
        place = place_weld(bracket, weld.but(joins=partner))
        if place is None or np.isnan(place.gaps_mm).any():
            continue
        off = float(np.abs(place.gaps_mm).max())
        if off <= bridged_gap_mm(place.throat_mm) and edge_under(
            flat_pattern(bracket.plate(weld.plate)), weld
        ):
            yield off, partner, place
