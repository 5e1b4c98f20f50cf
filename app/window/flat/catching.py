"""What catches the pointer, with the finder kept as long as the gesture lasts."""

from __future__ import annotations

from typing import Final

from app.editing.catches import Catch, Catcher
from app.editing.dimensions import Selected
from app.editing.outline import new_plate
from app.editing.refused import EditRefused
from app.window.flat.shown_dimensions import figure
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.flat_segments import Flat

_FAR: Final = ((-7000.0, -6500.0), (8000.0, -6500.0), (8000.0, 9500.0), (-7000.0, 9500.0))
BARE_SHEET = "bare sheet"


class Catching:
    """Finds what catches the pointer on a plate; made anew when the bracket or what moves has changed."""

    def __init__(self) -> None:
        self._for: tuple[object, ...] = ()
        self._catcher: Catcher | None = None

    def catch(
        self,
        bracket: Bracket,
        plate: str,
        at: Flat,
        reach_mm: float,
        *,
        grid_mm: float,
        from_mm: Flat | None,
        leaving: Pick | None,
        inch: bool,
    ) -> Catch:
        """Return where the pointer is caught, and why."""
        wanted = (id(bracket), plate, leaving, inch)
        if wanted != self._for:
            self._for = wanted
            self._held = bracket  # keeps its id from being given to another
            try:
                self._catcher = Catcher(
                    bracket,
                    plate,
                    _ignored(leaving),
                    lambda mm: figure(mm, inch=inch) + (" in" if inch else ""),
                )
            except (EditRefused, ValueError):
                self._catcher = None
        if self._catcher is None:
            return Catch(at)
        return self._catcher.catch(at, reach_mm, grid_mm=grid_mm, from_mm=from_mm)


def on_bare_sheet(bracket: Bracket) -> Bracket:
    """Return the bracket with a plate named BARE_SHEET that stands where the next new one will.

    Its edges are out of sight: it is there for where bosses and dash bar lie on it.
    """
    free = bracket.but(plates=tuple(p for p in bracket.plates if p.name != BARE_SHEET))
    return new_plate(free, _FAR, thickness_mm=5.0, material=None, name=BARE_SHEET)


def _ignored(leaving: Pick | None) -> tuple[Selected | str, ...]:
    if leaving is None:
        return ()
    match leaving.kind:
        case "corner":
            return (Selected(leaving.plate, "corner", index=leaving.index, loop=leaving.loop),)
        case "edge":
            return (Selected(leaving.plate, "edge", index=leaving.index, loop=leaving.loop),)
        case "opening":
            return (Selected(leaving.plate, "opening", name=leaving.name),)
        case "fold":
            return (Selected(leaving.plate, "fold", name=leaving.name),)
        case _:
            return ()
