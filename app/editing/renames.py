"""New names for bolts, anchors, bosses and the file's own materials; what names them follows."""

from __future__ import annotations

from app.editing.names import checked_name
from app.editing.openings import rename_plate
from app.editing.refused import EditRefused
from app.editing.welding import rename_weld, with_anchor_named
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtBoss, Bolt, OwnMaterial
from geometry.materials import UnknownMaterialError, material
from geometry.plate import Plate

__all__ = [
    "rename_anchor",
    "rename_bolt",
    "rename_boss",
    "rename_material",
    "rename_plate",
    "rename_weld",
    "with_own_material",
]


def rename_bolt(bracket: Bracket, old: str, new: str) -> Bracket:
    """Return the bracket with a bolt renamed; EditRefused for a name that is taken or none."""
    called = checked_name(new, {bolt.name for bolt in bracket.bolts} - {old}, f"bolt {old}")
    return bracket.but(bolts=tuple(b.but(name=called) if b.name == old else b for b in bracket.bolts))


def rename_anchor(bracket: Bracket, old: str, new: str) -> Bracket:
    """Return the bracket with an anchor renamed; bolts to it follow. EditRefused as for a bolt."""
    called = checked_name(new, {anchor.name for anchor in bracket.anchors} - {old}, f"anchor {old}")
    anchors = tuple(a.but(name=called) if a.name == old else a for a in bracket.anchors)

    def followed(bolt: Bolt) -> Bolt:
        joins = bolt.joins
        mine = isinstance(joins, AtAnchor) and joins.anchor == old
        return bolt.but(joins=joins.but(anchor=called)) if mine else bolt

    made = bracket.but(anchors=anchors, bolts=tuple(map(followed, bracket.bolts)))
    return with_anchor_named(made, old, called)


def rename_boss(bracket: Bracket, old: str, new: str) -> Bracket:
    """Return the bracket with a boss renamed; bolts into it follow, those of kept layouts too.

    EditRefused without a casing, and for a name that is taken or none.
    """
    casing = bracket.casing
    if casing is None:
        raise EditRefused(f"there is no casing, so no boss {old}; add it first")
    called = checked_name(new, {boss.name for boss in casing.bosses} - {old}, f"boss {old}")
    bosses = tuple(b.but(name=called) if b.name == old else b for b in casing.bosses)

    def followed(bolt: Bolt) -> Bolt:
        joins = bolt.joins
        mine = isinstance(joins, AtBoss) and joins.boss == old
        return bolt.but(joins=joins.but(boss=called)) if mine else bolt

    kept = tuple(v.but(bolts=tuple(map(followed, v.bolts))) for v in bracket.variants)
    bolts = tuple(map(followed, bracket.bolts))
    return bracket.but(casing=casing.but(bosses=bosses), bolts=bolts, variants=kept)


def rename_material(bracket: Bracket, old: str, new: str) -> Bracket:
    """Return the bracket with one of its own materials renamed; all that is made of it follows."""
    called = checked_name(new, {own.name for own in bracket.materials} - {old}, f"material {old}")
    materials = tuple(m.but(name=called) if m.name == old else m for m in bracket.materials)

    def plate(one: Plate) -> Plate:
        return one.but(material=called) if _is(one.material, old) else one

    def bolt(one: Bolt) -> Bolt:
        spacer = one.spacer
        mine = spacer is not None and _is(spacer.material, old)
        return one.but(spacer=spacer.but(material=called)) if mine and spacer is not None else one

    bar = bracket.dash_bar
    return bracket.but(
        materials=materials,
        plates=tuple(map(plate, bracket.plates)),
        bolts=tuple(map(bolt, bracket.bolts)),
        dash_bar=bar.but(material=called) if bar is not None and _is(bar.material, old) else bar,
        variants=tuple(
            v.but(plates=tuple(map(plate, v.plates)), bolts=tuple(map(bolt, v.bolts)))
            for v in bracket.variants
        ),
    )


def with_own_material(bracket: Bracket, plate_name: str) -> Bracket:
    """Return the bracket with a material of its own for a plate, with the figures of its present one.

    EditRefused if the plate has no material yet, or one of the file's own already.
    """
    plate = bracket.plate(plate_name)
    try:
        known = material(plate.material or "", bracket.materials)
    except UnknownMaterialError:
        raise EditRefused(
            f"plate {plate_name} has no known material to begin from; choose the nearest in the table first"
        ) from None
    if any(_is(known.name, own.name) for own in bracket.materials):
        raise EditRefused(f"{known.name} is the file's own already; change its figures in the parts list")
    strengths = known.yield_mpa(plate.thickness_mm), known.tensile_mpa(plate.thickness_mm)
    if strengths[0] is None or strengths[1] is None:
        raise EditRefused(
            f"the strength of {known.name} at {plate.thickness_mm:g} mm is in no table, so nothing is there"
            " to begin from; choose another thickness or material first"
        )
    own = OwnMaterial.model_validate(
        {
            "name": checked_name(f"{known.name} own", {m.name for m in bracket.materials}, "the material"),
            "kind": known.kind,
            "yield_mpa": strengths[0],
            "tensile_mpa": strengths[1],
            "elastic_modulus_mpa": known.elastic_modulus_mpa,
            "poisson": known.poisson,
            "density_kg_m3": known.density_kg_m3,
            "least_inside_radius_mm": known.least_inside_radius_mm(plate.thickness_mm),
            "source": f"as {known.name} in the table; not replaced by a certificate's figures yet",
        }
    )
    made = bracket.but(materials=(*bracket.materials, own))
    return made.with_plate(plate.but(material=own.name))


def _is(name: str | None, other: str) -> bool:
    return name is not None and "".join(name.split()).casefold() == "".join(other.split()).casefold()
