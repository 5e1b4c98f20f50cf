"""The parts list on paper after ISO 7573, bolts that are alike in one row with the length to buy. No Qt."""

from __future__ import annotations

from collections.abc import Iterator

from app.paper.bolts_to_buy import BoltToBuy, bolt_systems, bolts_to_buy, length_words, source_words
from app.paper.tables import Column, Table
from app.wording.bar_words import section_words, stays_words
from app.wording.figures import figure, plain
from app.wording.plate_name import plate_called
from app.wording.washer_words import spacer_sizes, standard_washer, washer_sizes, washer_sources
from app.wording.weld_words import partner_of, plate_of_weld, sides_words, told_size
from geometry.bolt_tables import STAINLESS_NORM, UnknownBoltError, bolt_grade, bolt_size
from geometry.bracket import Bracket
from geometry.finding_words import named_once
from geometry.fixing import Bolt, Washer
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import ShapeError
from geometry.materials import UnknownMaterialError, material
from geometry.nuts import has_locking_nut
from geometry.plate import Plate

BLANK = "blank"
HARDNESS_SOURCE = "ISO 7089 (from memory, to be verified)"
SOFT_HV, HARD_HV = 200, 300
"""Hardness of washers: up to grade 8.8, and up to 10.9."""
_SOFT_UP_TO_MPA = 900.0
"""Tensile strength between the bolts of either: grades 8.8 and 5 below, 10.9 and 8 above."""
_MOST_LETTERS = 80
"""Of the names of bolts in one row."""


def part_table(bracket: Bracket) -> Table:
    """Return the parts list."""
    columns = (
        Column("item", 17),
        Column("off", 9, right=True),
        Column("part", 24),
        Column("size, length to buy", 38),
        Column("material, grade", 26),
        Column("remark", 62),
    )
    rows = [*_plates(bracket), *_bolts(bracket), *_welds(bracket), *_rest(bracket)]
    return Table(columns, tuple(tuple(plain(cell) for cell in row) for row in rows), size_mm=2.3)


def list_sources(bracket: Bracket) -> str:
    """Return in sentences where lengths to buy come from, and the sizes and the hardness of washers."""
    return (
        f"Length to buy: {source_words(bracket)}. Washers, outer x inner x thickness:"
        f" {washer_sources(bolt_systems(bracket))}; hardness: {HARDNESS_SOURCE}."
    )


def bought_words(bolt: Bolt, bought: BoltToBuy | None) -> str:
    """Return a bolt with the length to buy, such as `M8 x 25`, and the file's own length if it differs."""
    if bought is None or bought.length_mm is None:
        return f"{bolt.size} x ?"
    words = length_words(bought.length_mm, bolt_size(bolt.size))
    if bolt.length_mm is not None and abs(bolt.length_mm - bought.length_mm) > 0.5:
        words += f" (file: {bolt.length_mm:g} mm)"
    return words


def _plates(bracket: Bracket) -> Iterator[tuple[str, ...]]:
    for number, plate in enumerate(bracket.plates, start=1):
        folds = f"; {len(plate.folds)} fold{'s' if len(plate.folds) > 1 else ''}" if plate.folds else ""
        mass = _mass_kg(bracket, plate)
        yield (
            f"P{number}",
            "1",
            plate_called(plate.name),
            f"{plate.thickness_mm:g} mm sheet{folds}",
            plate.material or BLANK,
            "" if mass is None else f"{figure(mass)} kg",
        )


def _bolts(bracket: Bracket) -> Iterator[tuple[str, ...]]:
    bought = bolts_to_buy(bracket)
    alike: dict[tuple[object, ...], list[Bolt]] = {}
    for bolt in bracket.bolts:
        one = bought.get(bolt.name)
        key = (
            bolt.size, bolt.grade, bolt.locking, bolt.tightening_nm, bolt.joins.to, repr(bolt.washer),
            repr(bolt.spacer), bought_words(bolt, one), one.words if one else "",
        )  # fmt: skip
        alike.setdefault(key, []).append(bolt)
    for bolts in (part for group in alike.values() for part in _parted(group)):
        first = bolts[0]
        one = bought.get(first.name)
        torque = BLANK if first.tightening_nm is None else f"{first.tightening_nm:.4g} N.m"
        yield (
            ", ".join(b.name for b in bolts),
            f"{len(bolts)}",
            f"bolt to {first.joins.to}",
            bought_words(first, one),
            first.grade or BLANK,
            f"{torque}; locking: {first.locking or BLANK}" + (f"; {one.words}" if one else ""),
        )
        yield from _with_bolts(first, len(bolts))


def _parted(bolts: list[Bolt]) -> Iterator[list[Bolt]]:
    """Yield bolts in parts whose names have room in one row: no row may grow taller than a page."""
    part: list[Bolt] = []
    for bolt in bolts:
        if part and sum(len(b.name) + 2 for b in (*part, bolt)) > _MOST_LETTERS:
            yield part
            part = []
        part.append(bolt)
    if part:
        yield part


def _with_bolts(bolt: Bolt, count: int) -> Iterator[tuple[str, ...]]:
    try:
        size = bolt_size(bolt.size)
    except UnknownBoltError:
        return
    nut_side = bolt.joins.to == "hole"
    if isinstance(bolt.washer, Washer):
        washer = washer_sizes(bolt.washer)
    else:
        washer = standard_washer(size) if bolt.washer == "standard" else ""
    if washer:
        off = count * (2 if nut_side else 1)
        yield (
            "",
            f"{off}",
            "washer",
            washer,
            _washer_metal(bolt),
            "under head and nut" if nut_side else "under the head",
        )
    if bolt.joins.to in ("hole", "dash bar"):
        yield (
            "",
            f"{count}",
            "locking nut" if has_locking_nut(bolt) else "nut",
            size.name,
            "as the bolt's grade",
            "behind the wall" if not nut_side else "",
        )
    if bolt.spacer is not None:
        yield ("", f"{count}", "spacer", spacer_sizes(bolt.spacer), bolt.spacer.material, "")


def _washer_metal(bolt: Bolt) -> str:
    """Return what a bolt's washers are made of; soft ones under a strong bolt are pressed in, and let go."""
    try:
        grade = bolt_grade(bolt.grade or "")
    except UnknownBoltError:
        return f"steel, {SOFT_HV} HV; {HARD_HV} above grade 8.8"
    if grade.norm == STAINLESS_NORM:
        return f"stainless, {SOFT_HV} HV"
    return f"steel, {HARD_HV if grade.tensile_mpa > _SOFT_UP_TO_MPA else SOFT_HV} HV"


def _welds(bracket: Bracket) -> Iterator[tuple[str, ...]]:
    for number, weld in enumerate(bracket.welds, start=1):
        metal = weld.metal_tensile_mpa
        yield (
            f"J{number}",
            "1",
            named_once(f"weld {weld.name}"),
            f"{told_size(weld)}, {sides_words(weld)}, {weld.length_mm:.4g} mm",
            "as the sheet" if metal is None else f"metal {metal:g} MPa",
            f"{plate_of_weld(weld)} to {partner_of(weld)}; seen by {weld.seen_by or 'nobody named'}",
        )


def _rest(bracket: Bracket) -> Iterator[tuple[str, ...]]:
    if bracket.casing is not None:
        yield ("C", "1", "casing", bracket.casing.name, "", f"{bracket.casing.mass_kg:.3g} kg")
    bar = bracket.dash_bar
    if bar is not None:
        size = f"{section_words(bar.section)} mm"
        ends = " and ".join(sorted({end.kind for end in bar.ends})) + stays_words(len(bar.stays))
        yield ("B", "1", bar.name, size, bar.material, f"ends {ends}")
    for number, anchor in enumerate(bracket.anchors, start=1):
        yield (
            f"A{number}",
            "1",
            f"anchor {anchor.name}",
            "",
            anchor.metal,
            f"taken as immovable: {anchor.word}",
        )


def _mass_kg(bracket: Bracket, plate: Plate) -> float | None:
    try:
        density = material(plate.material or "", bracket.materials).density_kg_m3
        return flat_pattern(plate).mass_kg(plate.thickness_mm, density)
    except (UnknownMaterialError, ShapeError):
        return None
