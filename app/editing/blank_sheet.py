"""The empty sheet that drawing begins on."""

from __future__ import annotations

from geometry.bracket import Bracket
from geometry.loads import Loads, StatedCouple


def blank_bracket() -> Bracket:
    """Return the empty sheet: everything that only the user can know is blank, nothing is invented.

    There is no casing and no plate, which the findings say; what holds the column, the couple and who states
    it, the wheel and the rake are blanks of their own.
    """
    return Bracket(loads=Loads(couple=StatedCouple(by="")))
