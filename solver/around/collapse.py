"""Collapse travel: what slides in a crash, what stays, and whether the bracket ties one to the other."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bracket import Bracket
from geometry.casing import Casing
from geometry.installation import Collapse, ShaftPart
from solver.around.line import AroundGroup, AroundLine, blank

_GROUP: AroundGroup = "collapse travel"
_PRACTICE: Final = "common practice, no source: nothing may take away what the maker left for a crash"


def collapse_lines(bracket: Bracket) -> Iterator[AroundLine]:
    """Yield everything there is to say of the column's collapse travel."""
    collapse = bracket.installation.collapse
    if collapse is None:
        yield blank(_GROUP, "slip", "nobody has said how the column slides together in a crash")
        return
    yield from _bridging(collapse)
    yield _travel(collapse)
    yield from _drawn(bracket, collapse)


def drawn_room_mm(bracket: Bracket, part: ShaftPart) -> float | None:
    """Return how far a part can slide away from the wheel before it meets the casing's block; None: no block.

    A part that runs through the casing meets nothing there.
    """
    if bracket.casing is None:
        return None
    top = casing_stations_mm(bracket.casing)[1]
    low = min(part.stations_mm)
    return low - top if low >= top else None


def casing_stations_mm(casing: Casing) -> tuple[float, float]:
    """Return the stations along the shaft that the casing's block lies between."""
    low, high = sorted((casing.envelope.low_mm[2], casing.envelope.high_mm[2]))
    return casing.station_mm + low, casing.station_mm + high


def _bridging(collapse: Collapse) -> Iterator[AroundLine]:
    if not collapse.parts:
        yield blank(
            _GROUP, "slip", "no part of column or shaft is listed: say which slide, and what grips them"
        )
        return
    for part in collapse.parts:
        name = f"part {part.name}"
        low, high = sorted(part.stations_mm)
        where = f"from {low:g} to {high:g} mm"
        if part.moves is None:
            yield blank(_GROUP, name, f"whether it slides in a crash is blank, {where}")
        elif part.held_by_bracket is None and part.moves == "slides":
            yield blank(
                _GROUP, name, f"it slides, {where}, and whether bracket, casing or a clamp grips it is blank"
            )
        elif part.moves == "slides" and part.held_by_bracket == "yes":
            yield AroundLine(
                _GROUP,
                name,
                "fails",
                f"the bracket bridges the slip: this part slides, {where}, and is gripped to what the"
                " bracket is"
                " bolted to; hold the casing by a part that stays",
                _PRACTICE,
            )
        else:
            how = "stays" if part.moves == "fixed" else "slides and nothing of the bracket grips it"
            yield AroundLine(_GROUP, name, "met", f"it {how}, {where}", _PRACTICE)
    if not any(part.moves == "slides" for part in collapse.parts):
        yield blank(_GROUP, "slip", "no listed part slides: say which one does, or that the column never did")


def _travel(collapse: Collapse) -> AroundLine:
    name = "travel left"
    if collapse.travel_mm is None or collapse.donor_travel_mm is None:
        what = [
            w
            for w, v in (("here", collapse.travel_mm), ("in the donor", collapse.donor_travel_mm))
            if v is None
        ]
        return blank(_GROUP, name, f"how far the column can slide together is blank {' and '.join(what)}")
    enough = collapse.travel_mm >= collapse.donor_travel_mm
    return AroundLine(
        _GROUP,
        name,
        "met" if enough else "fails",
        f"{collapse.travel_mm:g} mm left here, {collapse.donor_travel_mm:g} mm in the donor"
        + ("" if enough else ": the donor had more, and rules"),
        _PRACTICE,
        collapse.donor_travel_mm,
        collapse.travel_mm,
        "mm",
    )


def _drawn(bracket: Bracket, collapse: Collapse) -> Iterator[AroundLine]:
    for part in collapse.parts:
        if part.moves != "slides":
            continue
        room = drawn_room_mm(bracket, part)
        if room is None or collapse.donor_travel_mm is None:
            continue
        enough = room >= collapse.donor_travel_mm
        yield AroundLine(
            _GROUP,
            f"way of part {part.name}",
            "met" if enough else "fails",
            f"it meets the casing's block after {room:g} mm; {collapse.donor_travel_mm:g} mm is the"
            " donor's travel" + ("" if enough else ": the casing stands in its way"),
            _PRACTICE,
            collapse.donor_travel_mm,
            room,
            "mm",
        )
