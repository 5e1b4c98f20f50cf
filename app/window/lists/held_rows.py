"""The rows of what holds bracket and column: dash bar, anchors, bearings, mount, and the wheel. No Qt."""

from __future__ import annotations

from collections.abc import Iterator

from app.window.lists.field import Field, Line, Path, Piece
from app.window.lists.note_lines import end_pieces
from app.window.lists.rows import Row
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.materials import MATERIALS

ANCHOR_METALS = ("steel", "cast aluminium", "cast iron")


def material_names(bracket: Bracket) -> tuple[str, ...]:
    """Return the names a plate's material can have."""
    return (*(m.name for m in bracket.materials), *(m.name for m in MATERIALS))


def bar_rows(bracket: Bracket) -> Iterator[Row]:
    """Yield the row of the dash bar, if there is one."""
    bar = bracket.dash_bar
    if bar is None:
        return
    path: Path = ("dash_bar",)
    length = sum((a - b) ** 2 for a, b in zip(bar.from_mm, bar.to_mm, strict=True)) ** 0.5
    rest: list[Piece] = [
        f"{bar.name}, {length:.0f} mm long: from ",
        *place_fields((*path, "from_mm"), "dash bar from", bar.from_mm),
    ]
    rest += [" to ", *place_fields((*path, "to_mm"), "dash bar to", bar.to_mm), "; one end "]
    rest += [*end_pieces(0, bar.ends[0]), "; other end ", *end_pieces(1, bar.ends[1]), "."]
    kinds = {end.kind for end in bar.ends}
    yield Row(
        key="dash bar",
        item="B",
        off=1,
        part=bar.name,
        cells=(
            (Field(((*path, "section"),), "section of the dash bar", bar.section, "section", "mm"),),
            (
                Field(
                    ((*path, "material"),),
                    "material of the dash bar",
                    bar.material,
                    "material",
                    choices=material_names(bracket),
                ),
            ),
            (f"ends {' and '.join(sorted(kinds))}",),
            ("",),
        ),
        pick=Pick("dash bar"),
        rest=Line("dash bar", tuple(rest)),
    )


def anchor_rows(bracket: Bracket) -> Iterator[Row]:
    """Yield a row for each anchor."""
    for number, anchor in enumerate(bracket.anchors, start=1):
        path: Path = ("anchors", anchor.name)
        spoken = f"anchor {anchor.name}"
        word = Field(((*path, "word"),), f"who says that {spoken} is immovable", anchor.word, "words")
        rest: list[Piece] = [f"{spoken}: name ", name_field(path, spoken, anchor.name), "; "]
        if anchor.at_mm is not None:
            rest += ["at ", *place_fields((*path, "at_mm"), spoken, anchor.at_mm), "; "]
        metal = Field(
            ((*path, "metal"),), f"metal of {spoken}", anchor.metal, "choice", choices=ANCHOR_METALS
        )
        yield Row(
            key=spoken,
            item=f"A{number}",
            off=1,
            part=spoken,
            cells=(("",), (metal,), ("",), ("immovable",)),
            pick=Pick("anchor", anchor.name),
            rest=Line(spoken, (*rest, "immovable: ", word)),
        )


def column_rows(bracket: Bracket) -> Iterator[Row]:
    """Yield a row for each bearing or the donor's mount, and one for the wheel."""
    column = bracket.column
    if column.held_by == "bearings":
        for number, bearing in enumerate(column.bearings, start=1):
            path: Path = ("column", "bearings", bearing.name)
            spoken = f"bearing {bearing.name}"
            yield _held_row(spoken, f"S{number}", path, bearing.station_mm, bearing.stiffness_n_per_mm)
    elif column.held_by == "donor mount" and column.mount is not None:
        mount = column.mount
        yield _held_row(
            "donor mount",
            "S1",
            ("column", "mount"),
            mount.station_mm,
            mount.sideways_n_per_mm,
            "sideways_n_per_mm",
        )
    if bracket.wheel is not None:
        wheel = bracket.wheel
        yield Row(
            key="wheel",
            item="W",
            off=1,
            part="wheel",
            cells=(
                (Field((("wheel", "diameter_mm"),), "diameter of the wheel", wheel.diameter_mm, unit="mm"),),
                (
                    "z ",
                    Field((("wheel", "station_mm"),), "station of the wheel", wheel.station_mm, unit="mm"),
                ),
                ("",),
                ("",),
            ),
            pick=Pick("wheel"),
        )


def _held_row(
    spoken: str,
    item: str,
    path: Path,
    station_mm: float,
    stiffness: tuple[float, float],
    name: str = "stiffness_n_per_mm",
) -> Row:
    stiff = Field(((*path, name),), f"stiffness of {spoken}, low to high", stiffness, "range", "N/mm")
    return Row(
        key=spoken,
        item=item,
        off=1,
        part=spoken,
        cells=(
            ("z ", _station(path, spoken, station_mm)),
            ("",),
            ("",),
            ("",),
        ),
        pick=Pick("bearing", str(path[-1]) if len(path) == 3 else spoken),
        rest=Line(spoken, (f"{spoken}: holds the shaft sideways with ", stiff, ".")),
    )


def _station(path: Path, spoken: str, station_mm: float) -> Field:
    return Field(((*path, "station_mm"),), f"station of {spoken}", station_mm, unit="mm")


def name_field(path: Path, spoken: str, name: str) -> Field:
    """Return the field in which a part is given another name."""
    return Field(((*path, "name"),), f"name of {spoken}", name, "words")


def place_fields(
    path: Path, spoken: str, place: tuple[float, float, float], unit: str = "mm"
) -> Iterator[Piece]:
    """Yield the three numbers of a place or a direction, each named by its axis."""
    for axis, value in enumerate(place):
        yield f"{' ' if axis else ''}{'xyz'[axis]} "
        kind = "quantity" if unit else "number"
        yield Field(((*path, axis),), f"{spoken}, {'xyz'[axis]}", value, kind, unit)  # type: ignore[arg-type]
