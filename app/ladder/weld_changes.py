"""Changes of welds."""

from __future__ import annotations

from app.editing.refused import EditRefused
from app.ladder.changed import Changed
from app.ladder.sheet_changes import length_mm
from geometry.bracket import Bracket


def with_throat(bracket: Bracket, only: str | None, text: str) -> Changed:
    """Return the bracket with welds of another throat; EditRefused where there is no such weld."""
    value = length_mm(text)
    names = [weld.name for weld in bracket.welds]
    if not names:
        raise EditRefused("there is no weld whose throat could change")
    if only is not None and only not in names:
        raise EditRefused(f"there is no weld {only}; there is: {', '.join(names)}")
    return Changed(
        bracket.but(
            welds=tuple(
                weld.but(throat_mm=value, leg_mm=None) if only in (None, weld.name) else weld
                for weld in bracket.welds
            )
        )
    )
