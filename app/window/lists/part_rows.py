"""The rows of the parts list: plates, bolts, welds, casing, bosses, dash bar, anchors, column. No Qt.

Alike bolts and bosses share a row; a row that is opened shows each of them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from app.window.lists.bolt_rows import States, bolt_rows
from app.window.lists.field import Field, Line, Path, Piece
from app.window.lists.held_rows import (
    anchor_rows,
    bar_rows,
    column_rows,
    material_names,
    name_field,
    place_fields,
)
from app.window.lists.material_rows import material_rows
from app.window.lists.rows import Row, item_numbers
from app.window.lists.typed import quantity_text
from app.window.lists.weld_rows import weld_rows
from app.window.selection import Pick
from app.wording.figures import sentence_in_units
from app.wording.plate_name import plate_called
from geometry.bolt_tables import BOLT_SIZES
from geometry.bracket import Bracket
from geometry.casing import Boss, Casing
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import ShapeError
from geometry.materials import UnknownMaterialError, material
from geometry.plate import Plate

BOSS_METALS = ("cast aluminium", "steel", "cast iron")


@dataclass(frozen=True)
class _Known:
    """What the rows are made from."""

    bracket: Bracket
    opened: Collection[str]
    states: States
    inch: bool


def part_rows(
    bracket: Bracket, *, opened: Collection[str] = (), states: States = None, inch: bool = False
) -> tuple[Row, ...]:
    """Return the rows from top to bottom.

    `opened` has the keys of shared rows that show their members; `states` give the states of bolts.
    """
    known = _Known(bracket, opened, states, inch)
    rows = tuple(_rows(known))
    return tuple(_with_inches(row) for row in rows) if inch else rows


def _with_inches(row: Row) -> Row:
    """Return the row with the inch figure beside every metric one that stands in its words."""
    if row.rest is None:
        return row
    pieces = tuple(
        sentence_in_units(piece, "inch") if isinstance(piece, str) else piece for piece in row.rest.pieces
    )
    return replace(row, rest=replace(row.rest, pieces=pieces))


def _rows(known: _Known) -> Iterator[Row]:
    bracket = known.bracket
    yield from bolt_rows(bracket, known.opened, known.states)
    for number, plate in enumerate(bracket.plates, start=1):
        yield _plate_row(bracket, plate, number, inch=known.inch)
    yield from weld_rows(bracket)
    if bracket.casing is not None:
        yield _casing_row(bracket.casing)
        yield from _boss_rows(bracket.casing, known.opened)
    yield from bar_rows(bracket)
    yield from anchor_rows(bracket)
    yield from column_rows(bracket)
    yield from material_rows(bracket)


def _plate_row(bracket: Bracket, plate: Plate, number: int, *, inch: bool) -> Row:
    path: Path = ("plates", plate.name)
    spoken = plate_called(plate.name)
    mass = _plate_mass_kg(bracket, plate)
    return Row(
        key=f"plate {plate.name}",
        item=f"P{number}",
        off=1,
        part=spoken,
        cells=(
            (Field(((*path, "thickness_mm"),), f"thickness of {spoken}", plate.thickness_mm, unit="mm"),),
            (
                Field(
                    ((*path, "material"),),
                    f"material of {spoken}",
                    plate.material,
                    "material",
                    choices=material_names(bracket),
                    blank=plate.material is None,
                ),
            ),
            (_fold_words(plate),),
            (
                ""
                if mass is None
                else quantity_text(float(f"{mass:.2g}" if mass < 1.0 else f"{mass:.3g}"), "kg", inch=inch),
            ),
        ),
        pick=Pick("plate", plate.name),
        rest=Line(f"plate {plate.name}", (f"{spoken}: name ", name_field(path, spoken, plate.name), ".")),
    )


def _fold_words(plate: Plate) -> str:
    count = len(plate.folds)
    return "" if not count else f"{count} fold{'s' if count > 1 else ''}"


def _plate_mass_kg(bracket: Bracket, plate: Plate) -> float | None:
    if plate.material is None:
        return None
    try:
        density = material(plate.material, bracket.materials).density_kg_m3
        area_mm2 = flat_pattern(plate).polygon.area
    except (UnknownMaterialError, ShapeError):
        return None
    return float(area_mm2) * plate.thickness_mm * density * 1e-9


def _casing_row(casing: Casing) -> Row:
    path: Path = ("casing",)
    spoken = casing.name if casing.name == "casing" else f"casing {casing.name}"
    clocking = Field(((*path, "clocking_deg"),), "clocking of the casing", casing.clocking_deg, unit="deg")
    mass = Field(((*path, "mass_kg"),), "mass of the casing", casing.mass_kg, unit="kg")
    rest: list[Piece] = [f"{spoken}: clocked ", clocking, "; station on the shaft z "]
    rest.append(Field(((*path, "station_mm"),), "station of the casing", casing.station_mm, unit="mm"))
    rest += [
        "; middle of mass ",
        *place_fields((*path, "mass_centre_mm"), "middle of mass", casing.mass_centre_mm),
    ]
    rest += [
        "; block from ",
        *place_fields((*path, "envelope", "low_mm"), "block from", casing.envelope.low_mm),
    ]
    rest += [" to ", *place_fields((*path, "envelope", "high_mm"), "block to", casing.envelope.high_mm), "."]
    return Row(
        key="casing",
        item="C",
        off=1,
        part=spoken,
        cells=(
            ("",),
            ("",),
            ("",),
            (mass,),
        ),
        pick=Pick("casing"),
        rest=Line("casing", tuple(rest)),
    )


def _boss_rows(casing: Casing, opened: Collection[str]) -> Iterator[Row]:
    alike: dict[tuple[object, ...], list[Boss]] = {}
    for boss in casing.bosses:
        alike.setdefault((boss.thread, boss.metal, boss.depth_mm, boss.face_diameter_mm), []).append(boss)
    places = {boss.name: number for number, boss in enumerate(casing.bosses, start=1)}
    for bosses in alike.values():
        numbers = item_numbers([str(places[b.name]) for b in bosses])
        key = f"bosses {bosses[0].name}"
        shared = len(bosses) > 1
        yield _boss_row(bosses, f"C.{numbers}", key, opened=key in opened if shared else None)
        if shared and key in opened:
            for boss in bosses:
                yield _boss_row([boss], f"C.{places[boss.name]}", f"boss {boss.name}", member=True)


def _boss_row(
    bosses: list[Boss], item: str, key: str, *, opened: bool | None = None, member: bool = False
) -> Row:
    first = bosses[0]
    spoken = f"boss {first.name}" if len(bosses) == 1 else f"bosses {', '.join(b.name for b in bosses)}"

    def field(name: str, words: str, **given: object) -> Field:
        paths = tuple(("casing", "bosses", boss.name, name) for boss in bosses)
        return Field(paths, f"{words} of {spoken}", getattr(first, name), **given)  # type: ignore[arg-type]

    depth = field("depth_mm", "depth of thread", unit="mm", may_be_empty=True, instead="unknown")
    rest: list[Piece] = [f"{spoken}: face ", field("face_diameter_mm", "face", unit="mm"), " across"]
    rest += ["; usable depth of thread ", depth]
    if len(bosses) == 1:
        rest += ["; name ", name_field(("casing", "bosses", first.name), spoken, first.name)]
        rest += [
            "; middle of its face ",
            *place_fields(("casing", "bosses", first.name, "at_mm"), spoken, first.at_mm),
        ]
        rest += [
            "; faces ",
            *place_fields(("casing", "bosses", first.name, "direction"), spoken, first.direction, ""),
        ]
    return Row(
        key=key,
        item=item,
        off=len(bosses),
        part="boss" if len(bosses) > 1 else spoken,
        cells=(
            (field("thread", "thread", kind="size", choices=tuple(s.name for s in BOLT_SIZES)),),
            (field("metal", "metal", kind="choice", choices=BOSS_METALS),),
            ("",),
            ("",),
        ),
        pick=Pick("boss", first.name),
        covers=tuple(Pick("boss", boss.name) for boss in bosses),
        rest=Line(key, (*rest, ".")),
        opened=opened,
        member=member,
    )
