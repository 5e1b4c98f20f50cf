"""Copy and paste of openings, folds and whole plates."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from app.editing.checked import checked_place
from app.editing.loops import Opening
from app.editing.moved_shapes import box_of, moved_fold, shift, shifted
from app.editing.names import free_name, names_on, plate_of, with_plate_changed
from app.editing.refused import EditRefused
from app.editing.repeats import with_new_openings
from geometry.bracket import Bracket
from geometry.fixing import OwnMaterial
from geometry.part import FlatPlace
from geometry.plate import FoldLine, Plate

_BESIDE_MM = 20.0


@dataclass(frozen=True)
class Clip:
    """Openings and folds that were copied, and the middle they are pasted by."""

    openings: tuple[Opening, ...]
    folds: tuple[FoldLine, ...]
    middle_mm: FlatPlace


@dataclass(frozen=True)
class PlateClip:
    """A whole plate that was copied, with its material if that is the file's own."""

    plate: Plate
    material: OwnMaterial | None


def copied(plate: Plate, names: Collection[str]) -> Clip:
    """Return the openings and folds of those names; EditRefused if the plate has none of them."""
    openings = tuple(opening for opening in plate.openings if opening.name in names)
    folds = tuple(fold for fold in plate.folds if fold.name in names)
    if not openings and not folds:
        listed = ", ".join(names) or "nothing"
        raise EditRefused(f"plate {plate.name} has nothing to copy under {listed}; choose openings of it")
    places = [place for fold in folds for place in (fold.from_mm, fold.to_mm)]
    if openings:
        places += box_of(list(openings))
    xs, ys = [x for x, _ in places], [y for _, y in places]
    return Clip(openings, folds, ((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0))


def pasted(bracket: Bracket, plate_name: str, clip: Clip, at: FlatPlace) -> Bracket:
    """Return the bracket with what was copied put on a plate, its middle at a flat place, not bolted."""
    plate = plate_of(bracket, plate_name)
    place = checked_place(at, "what is pasted")
    by = (place[0] - clip.middle_mm[0], place[1] - clip.middle_mm[1])
    changed = with_new_openings(plate, [shifted(opening, by) for opening in clip.openings])
    folds, taken = list(changed.folds), names_on(changed)
    for fold in clip.folds:
        name = free_name(fold.name, taken)
        taken.add(name)
        folds.append(moved_fold(fold, shift(by)).but(name=name))
    return with_plate_changed(bracket, plate_name, changed.but(folds=tuple(folds)))


def copied_plate(bracket: Bracket, plate_name: str) -> PlateClip:
    """Return a whole plate; its bolts are not copied."""
    plate = plate_of(bracket, plate_name)
    own = next((m for m in bracket.materials if m.name == plate.material), None)
    return PlateClip(plate, own)


def pasted_plate(bracket: Bracket, clip: PlateClip) -> Bracket:
    """Return the bracket with a copied plate as one more, last, under a free name.

    It stands beside the place of the first, along its own x, by its width and a gap; a material of another
    file's own comes with it, unless there is one of that name already.
    """
    plate = clip.plate
    name = free_name(plate.name, {other.name for other in bracket.plates})
    placement = plate.placement
    xs = [corner.at_mm[0] for corner in plate.outline]
    length = sum(part * part for part in placement.x_axis) ** 0.5 or 1.0
    by = (max(xs) - min(xs) + _BESIDE_MM) / length
    x, y, z = (at + by * part for at, part in zip(placement.origin_mm, placement.x_axis, strict=True))
    materials = bracket.materials
    if clip.material is not None and all(m.name != clip.material.name for m in materials):
        materials = (*materials, clip.material)
    beside = plate.but(name=name, placement=placement.but(origin_mm=(x, y, z)))
    return bracket.but(plates=(*bracket.plates, beside), materials=materials)
