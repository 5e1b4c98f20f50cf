"""One row of the parts list. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.window.lists.field import OPEN_BOX, Field, Line, Piece
from app.window.lists.typed import shown
from app.window.selection import Pick

COLUMNS = ("item", "no.", "part", "size", "grade", "tighten", "state")
"""ISO 7573's item, number off, description; then what decides here: `grade` is a plate's material too."""


@dataclass(frozen=True)
class Row:
    """One row: what it is, its cells, and everything else about it as a sentence."""

    key: str
    item: str
    off: int
    part: str
    cells: tuple[tuple[Piece, ...], ...]
    """Size; grade or material; tightening; state."""
    pick: Pick
    covers: tuple[Pick, ...] = ()
    """What is selected with it, where it stands for several."""
    rest: Line | None = None
    """What the columns have no room for."""
    opened: bool | None = None
    """Whether a row of several shows each of them below; None for a row of one."""
    member: bool = False
    """Whether it stands below a row that is opened."""
    balloon: bool = False
    """Whether its item is a balloon on the drawing."""

    @property
    def decides(self) -> bool:
        """Return whether it is a bolt, a plate or the casing: what most is typed of."""
        return self.pick.kind in ("bolt", "plate", "casing")

    @property
    def fields(self) -> tuple[Field, ...]:
        """Return all its fields, those of its columns first."""
        mine = [piece for cell in self.cells for piece in cell if isinstance(piece, Field)]
        return (*mine, *(self.rest.fields if self.rest is not None else ()))

    def is_of(self, pick: Pick | None) -> bool:
        """Return whether that pick is this row's."""
        return pick is not None and (pick == self.pick or pick in self.covers)

    def spoken(self, *, inch: bool = False) -> str:
        """Return the row as it is told to somebody who does not see it."""
        told = [f"item {self.item}", f"{self.off} off", self.part]
        for cell in self.cells:
            words = "".join(
                piece if isinstance(piece, str) else shown(piece, inch=inch).replace(OPEN_BOX, "blank")
                for piece in cell
            ).strip()
            if words:
                told.append(words)
        return ", ".join(told)


def item_numbers(names: Sequence[str]) -> str:
    """Return item numbers as a drawing has them: `1-3, 5` where they follow each other."""
    if not all(name.isdigit() for name in names):
        return ", ".join(names) if len(names) <= 3 else f"{names[0]} ... {names[-1]}"
    runs: list[list[int]] = []
    for number in sorted(int(name) for name in names):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)
