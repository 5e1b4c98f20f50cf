"""Clamps round the column's tube: when they slip, what they may never do, and what they grip in a crash.

The bracket is judged as if they were not there: friction on a tube is nothing to count on.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtBoss, AtDashBar
from geometry.installation import Collapse
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
    """Return whether a clamp is all that holds the casing: no bolt to it, or none to what holds."""
    to_casing = any(isinstance(bolt.joins, AtBoss) for bolt in bracket.bolts)
    to_support = any(isinstance(bolt.joins, AtDashBar | AtAnchor) for bolt in bracket.bolts)
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
    low, high = sorted(clamp.stations_mm)
    if collapse is None or not collapse.parts:
        return blank(_GROUP, name, "nobody has said which parts of the column slide where it sits")
    for part in collapse.parts:
        start, end = sorted(part.stations_mm)
        grips = start <= high and low <= end
        if part.moves is None and grips:
            return blank(_GROUP, name, f"it grips part {part.name}, and whether that slides is blank")
        if part.moves != "slides":
            continue
        if grips:
            return AroundLine(
                _GROUP,
                name,
                "fails",
                f"it grips part {part.name}, which slides, from {start:g} to {end:g} mm: set it on a part"
                " that stays",
                _PRACTICE,
            )
        travel = collapse.donor_travel_mm
        if start >= high and travel is not None and start - high < travel:
            return AroundLine(
                _GROUP,
                name,
                "fails",
                f"part {part.name} meets it after {start - high:g} mm; {travel:g} mm is the donor's travel",
                _PRACTICE,
                travel,
                start - high,
                "mm",
            )
    return AroundLine(
        _GROUP, name, "met", "it sits on no part that slides, and in no such part's way", _PRACTICE
    )
