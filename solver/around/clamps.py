"""Clamps round the column's tube: when they slip, what they may never do, and what they grip in a crash.

The bracket is judged as if they were not there: friction on a tube is nothing to count on.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtBoss, AtDashBar
from geometry.installation import Collapse, ShaftPart
from geometry.tube_clamp import TubeClamp
from solver.around.line import AroundGroup, AroundLine, blank

_GROUP: AroundGroup = "tube clamp"
_FORMULA: Final = (
    "closed form, F mu D on two lines to pi/2 F mu D pressed evenly; friction common practice, no source"
)
_PRACTICE: Final = "common practice, no source"


def clamp_lines(bracket: Bracket) -> Iterator[AroundLine]:
    """Yield everything there is to say of clamps round the column's tube; nothing where there is none."""
    for clamp in bracket.installation.clamps:
        yield _slip(bracket, clamp)
        yield _alone(bracket, clamp)
        yield _in_a_crash(bracket.installation.collapse, clamp)


def hangs_on_clamps(bracket: Bracket) -> bool:
    """Return whether a clamp is all that holds the casing: no bolt to it, or nothing to what holds."""
    to_casing = any(isinstance(bolt.joins, AtBoss) for bolt in bracket.bolts)
    joined = [*(bolt.joins for bolt in bracket.bolts), *(weld.joins for weld in bracket.welds)]
    to_support = any(isinstance(joins, AtDashBar | AtAnchor) for joins in joined)
    return bool(bracket.installation.clamps) and not (to_casing and to_support)


def _slip(bracket: Bracket, clamp: TubeClamp) -> AroundLine:
    slip, drawn = clamp.slip_nm, clamp.drawn_n
    if slip is None or drawn is None or clamp.tube_mm is None:
        return blank(
            _GROUP, f"clamp {clamp.name}", f"{' and '.join(clamp.missing)} blank: when it slips is open"
        )
    pressure = ""
    if clamp.width_mm > 0.0:
        pressure = f", pressing with up to {drawn[1] / (clamp.tube_mm * clamp.width_mm):.2g} MPa"
    couple, factor = bracket.loads.couple.value_nm, bracket.loads.couple_factor
    beside = f"; the couple with its factor is {couple * factor:.3g} N.m" if couple is not None else ""
    return AroundLine(
        _GROUP,
        f"clamp {clamp.name}",
        "told",
        f"it slips between {slip[0]:.3g} and {slip[1]:.3g} N.m{pressure}{beside}; the bracket is judged as if"
        " it were not there",
        _FORMULA,
        slip[0],
        None,
        "N.m",
    )


def _alone(bracket: Bracket, clamp: TubeClamp) -> AroundLine:
    name = f"what else holds beside clamp {clamp.name}"
    if hangs_on_clamps(bracket):
        words = (
            "a clamp round the column tube alone is not enough: bolt the casing to a plate, and the plate to"
            " the dash bar or an anchor"
        )
        return AroundLine(_GROUP, name, "fails", words, _PRACTICE)
    return AroundLine(_GROUP, name, "met", "the casing is bolted to what holds it, too", _PRACTICE)


def _in_a_crash(collapse: Collapse | None, clamp: TubeClamp) -> AroundLine:
    name = f"clamp {clamp.name} in a crash"
    if collapse is None or not collapse.parts:
        return blank(_GROUP, name, "nobody has said which parts of the column slide where it sits")
    beside = [_beside_part(name, clamp, part, collapse.donor_travel_mm) for part in collapse.parts]
    # One part that fails is not hidden by another that is blank.
    for standing in ("fails", "open"):
        found = next((line for line in beside if line is not None and line.standing == standing), None)
        if found is not None:
            return found
    return AroundLine(
        _GROUP, name, "met", "it sits on no part that slides, and in no such part's way", _PRACTICE
    )


def _beside_part(name: str, clamp: TubeClamp, part: ShaftPart, travel_mm: float | None) -> AroundLine | None:
    """Return what is wrong or open between a clamp and one part of the column; None if nothing is."""
    low, high = sorted(clamp.stations_mm)
    start, end = sorted(part.stations_mm)
    grips, above = start <= high and low <= end, start >= high
    if part.moves == "fixed" or not (grips or above):
        return None
    if part.moves is None:
        how = "grips part" if grips else "stands below part"
        return blank(_GROUP, name, f"it {how} {part.name}, and whether that slides is blank")
    if grips:
        return AroundLine(
            _GROUP,
            name,
            "fails",
            f"it grips part {part.name}, which slides, from {start:g} to {end:g} mm: set it on a part"
            " that stays",
            _PRACTICE,
        )
    if travel_mm is None:
        return blank(_GROUP, name, f"part {part.name} slides toward it, and the donor's travel is blank")
    if start - high >= travel_mm:
        return None
    return AroundLine(
        _GROUP,
        name,
        "fails",
        f"part {part.name} meets it after {start - high:g} mm; {travel_mm:g} mm is the donor's travel",
        _PRACTICE,
        travel_mm,
        start - high,
        "mm",
    )
