"""The one entrance: everything that is said around a bracket."""

from __future__ import annotations

from dataclasses import replace

from geometry.bracket import Bracket
from geometry.finding_words import named_once
from solver.around.clamps import clamp_lines
from solver.around.collapse import collapse_lines
from solver.around.line import AroundLine
from solver.around.room import room_lines
from solver.around.shaft_joints import shaft_joint_lines
from solver.around.wiring import wiring_lines


def around(bracket: Bracket) -> tuple[AroundLine, ...]:
    """Return a line for everything there is to say around the bracket, group by group; it never raises."""
    lines = (
        *shaft_joint_lines(bracket),
        *wiring_lines(bracket),
        *collapse_lines(bracket),
        *clamp_lines(bracket),
        *room_lines(bracket),
    )
    return tuple(replace(x, name=named_once(x.name), words=named_once(x.words)) for x in lines)
