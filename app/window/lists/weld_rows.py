"""The rows of the parts list for welds, and their notes. No Qt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, get_args

from app.window.lists.field import Field, Line, Path, Piece
from app.window.lists.rows import Row
from app.window.selection import Pick
from app.wording.weld_words import partner_of, plate_of_weld
from geometry.bracket import Bracket
from geometry.weld import Sides, Weld

AT_ENDS: Final = ("a throat short at each end", "full up to its ends")
"""Words for `full_at_ends`, by its value."""


def weld_rows(bracket: Bracket) -> Iterator[Row]:
    """Yield a row for each weld."""
    for number, weld in enumerate(bracket.welds, start=1):
        yield _row(weld, number)


def weld_lines(bracket: Bracket) -> Iterator[Line]:
    """Yield a note for each weld: what it joins and who answers for it."""
    for weld in bracket.welds:
        seen = Field(
            (("welds", weld.name, "seen_by"),),
            f"who welded or inspected weld {weld.name}",
            weld.seen_by,
            "words",
            instead="nobody named",
            may_be_empty=True,
        )
        metal = Field(
            (("welds", weld.name, "metal_tensile_mpa"),),
            f"least tensile strength of the metal of weld {weld.name}",
            weld.metal_tensile_mpa,
            unit="MPa",
            instead="no less than what it joins",
            may_be_empty=True,
        )
        joins = f"{plate_of_weld(weld)} to {partner_of(weld)}"
        pieces: tuple[Piece, ...] = (
            f"Weld {weld.name}, {joins}: its metal bears ", metal, "; welded or inspected by ", seen, ".",
        )  # fmt: skip
        yield Line(f"weld {weld.name}", pieces)


def _row(weld: Weld, number: int) -> Row:
    path: Path = ("welds", weld.name)
    spoken = f"weld {weld.name}"
    rest: list[Piece] = [
        f"{spoken}: name ",
        Field(((*path, "name"),), f"name of {spoken}", weld.name, "words"),
        "; on the edge of ",
        f"{plate_of_weld(weld)} from ",
    ]
    for key, end in (("from_mm", weld.from_mm), ("to_mm", weld.to_mm)):
        rest += [] if key == "from_mm" else [" to "]
        for axis, value in enumerate(end):
            rest += [f"{' ' if axis else ''}{'xy'[axis]} "]
            told = f"{'beginning' if key == 'from_mm' else 'end'} of {spoken}, {'xy'[axis]}"
            rest.append(Field(((*path, key, axis),), told, value, unit="mm"))
    rest += [
        f", {weld.length_mm:.4g} mm; ",
        Field(
            ((*path, "full_at_ends"),),
            f"ends of {spoken}",
            AT_ENDS[weld.full_at_ends],
            "choice",
            choices=AT_ENDS,
        ),
        ".",
    ]
    return Row(
        key=spoken,
        item=f"J{number}",
        off=1,
        part=f"weld to {partner_of(weld)}",
        cells=(
            _size(path, spoken, weld),
            (
                Field(
                    ((*path, "sides"),), f"sides of {spoken}", weld.sides, "choice", choices=get_args(Sides)
                ),
            ),
            (f"{weld.length_mm:.4g} long",),
            ("",),
        ),
        pick=Pick("weld", weld.name),
        rest=Line(spoken, tuple(rest)),
    )


def _size(path: Path, spoken: str, weld: Weld) -> tuple[Piece, ...]:
    if weld.throat_mm is None and weld.leg_mm is not None:
        return ("z ", Field(((*path, "leg_mm"),), f"leg of {spoken}", weld.leg_mm, unit="mm"))
    throat = weld.throat_mm
    return (
        "a ",
        Field(((*path, "throat_mm"),), f"throat of {spoken}", throat, unit="mm", blank=throat is None),
    )
