"""Brackets for tests, built in code, and the short ways to solve them.

Invented measures: they check no figure.

Plates stand square to the shaft with their back at station 0 unless it is said otherwise; the casing lies
behind them, and a bolt through a plate's hole meets a boss or an anchor of the same name.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.bracket import Bracket
from geometry.casing import Bearing, Boss, Casing, Column, Envelope, Wheel
from geometry.fixing import (
    Anchor,
    AtAnchor,
    AtBoss,
    AtDashBar,
    BarEnd,
    Bolt,
    DashBar,
    OwnMaterial,
    RectangularTube,
    Washer,
)
from geometry.loads import Loads, StatedCouple
from geometry.placing import footprints_of, place_bolts
from geometry.plate import Corner, FoldLine, Hole, Placement, Plate
from geometry.plate_mesh import mesh_plate
from geometry.weld import Weld
from geometry.weld_mark import weld_marks
from solver.linkage import Linkage, linkage_of
from solver.mesh_stage import MeshedPlate, meshed_plate
from solver.rigid import Floats
from solver.solved import Solved, solved

WORD = "invented for a test"
WELDED = BarEnd(kind="welded", seen_by="the welder")
STIFF_BEARINGS = Column(
    held_by="bearings",
    bearings=(
        Bearing(name="lower", station_mm=-200, stiffness_n_per_mm=(10_000, 10_000)),
        Bearing(name="upper", station_mm=300, stiffness_n_per_mm=(10_000, 10_000)),
    ),
)
NO_BEARINGS = Column(held_by="nothing")
WEIGHTLESS_STEEL = OwnMaterial(
    name="weightless steel",
    kind="steel",
    yield_mpa=275,
    tensile_mpa=410,
    elastic_modulus_mpa=210_000,
    poisson=0.3,
    density_kg_m3=1e-9,
    source=WORD,
)


@dataclass(frozen=True)
class Weightless:
    """A plate without weight, for questions put to the linkage alone."""

    mass_kg: float = 0.0

    @property
    def mass_centre_mm(self) -> Floats:
        """Return the origin."""
        return np.zeros(3)


def bolt(name: str, plate: str, joins: AtBoss | AtAnchor | AtDashBar, **given: object) -> Bolt:
    """Return an M8 8.8 through the hole of its own name, tightened to 22 N.m."""
    fields: dict[str, object] = {
        "size": "M8",
        "grade": "8.8",
        "tightening_nm": 22,
        "locking": "lock plate",
        "pad_diameter_mm": None if isinstance(joins, AtBoss) else 30,
    }
    return Bolt.model_validate({"name": name, "plate": plate, "hole": name, "joins": joins} | fields | given)


def rectangle(
    name: str,
    x: tuple[float, float],
    y: tuple[float, float],
    holes: Sequence[Hole],
    thickness_mm: float = 6.0,
    material: str = "S275",
    placement: Placement | None = None,
    folds: Sequence[FoldLine] = (),
) -> Plate:
    """Return a plate with a rectangular outline."""
    corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])]
    return Plate(
        name=name,
        material=material,
        thickness_mm=thickness_mm,
        outline=tuple(Corner(at_mm=at) for at in corners),
        openings=tuple(holes),
        folds=tuple(folds),
        placement=placement or Placement(),
    )


def casing(bosses: Sequence[Boss], mass_kg: float = 0.0) -> Casing:
    """Return a casing 100 mm wide that lies behind station 0."""
    return Casing(
        bosses=tuple(bosses),
        envelope=Envelope(low_mm=(-50, -50, -120), high_mm=(50, 50, 0)),
        mass_kg=mass_kg,
        mass_centre_mm=(0, 0, -60),
    )


def boss(name: str, at_mm: tuple[float, float, float], **given: object) -> Boss:
    """Return an M8 boss that looks along the shaft."""
    fields: dict[str, object] = {"thread": "M8", "face_diameter_mm": 20, "depth_mm": 20}
    return Boss.model_validate({"name": name, "at_mm": at_mm} | fields | given)


def one_piece(
    *,
    folded: bool = False,
    column: Column = STIFF_BEARINGS,
    couple_nm: float = 30.0,
    thickness_mm: float = 6.0,
    mass_kg: float = 5.0,
) -> Bracket:
    """Return one plate square to the shaft: three bosses, four bolts to a square dash bar.

    Folded, its upper edge is a foot turned toward the driver under the bar.
    """
    around = [(36 * np.cos(a), 36 * np.sin(a)) for a in np.radians((150, 30, 270))]
    holes = [
        Hole(name=str(i), centre_mm=(float(x), float(y)), diameter_mm=9) for i, (x, y) in enumerate(around, 1)
    ]
    across = (-60.0, -25.0, 25.0, 60.0)
    radius = 10.0
    strip = np.pi / 2.0 * (radius + 0.38 * thickness_mm)
    fold_at = 92.0
    top = fold_at + strip / 2.0 + 30.0 if folded else 130.0
    row = fold_at + strip / 2.0 + 14.0 if folded else top - 15.0
    holes += [Hole(name=str(i), centre_mm=(x, row), diameter_mm=9) for i, x in enumerate(across, 4)]
    holes.append(Hole(name="shaft", centre_mm=(0, 0), diameter_mm=40))
    folds = ()
    if folded:
        folds = (
            FoldLine(
                name="foot",
                from_mm=(-75, fold_at),
                to_mm=(75, fold_at),
                inside_radius_mm=radius,
                k_factor=0.38,
            ),
        )
    plate = rectangle("plate", (-75, 75), (-60, top), holes, thickness_mm, folds=folds)
    bolts = [bolt(str(i), "plate", AtBoss(boss=str(i))) for i in (1, 2, 3)]
    bolts += [bolt(str(i), "plate", AtDashBar()) for i in (4, 5, 6, 7)]
    if folded:
        bar_at = (fold_at - strip / 2.0 + radius + thickness_mm + 20.0, thickness_mm + radius + 14.0)
    else:
        bar_at = (row, thickness_mm + 20.0)
    return Bracket(
        title="one piece",
        plates=(plate,),
        casing=casing([boss(str(i), (float(x), float(y), 0)) for i, (x, y) in enumerate(around, 1)], mass_kg),
        column=column,
        wheel=Wheel(diameter_mm=350, station_mm=410),
        rake_deg=25,
        bolts=tuple(bolts),
        dash_bar=DashBar(
            from_mm=(-600, *bar_at),
            to_mm=(600, *bar_at),
            section=RectangularTube(width_mm=40, height_mm=40, wall_mm=3),
            ends=(WELDED, WELDED),
        ),
        loads=Loads(couple=StatedCouple(couple_nm=couple_nm)),
    )


def straps(
    layout: str,
    *,
    column: Column = NO_BEARINGS,
    size: str = "M8",
    grade: str = "8.8",
    tightening_nm: float = 22.0,
    hole_mm: float = 9.0,
    couple_nm: float = 30.0,
    length_mm: float = 110.0,
) -> Bracket:
    """Return two straps of 40 x 6 mm with one bolt at each end, to the casing and to anchors above it.

    `side by side`: in one plane square to the shaft, 40 mm left and right of it. `in line`: one behind the
    other, 40 mm above the shaft and 100 mm apart along it. `across`: 40 mm left and right, lying along the
    shaft, bolt axes across it.
    """
    plates, bosses, anchors, bolts = [], [], [], []
    for index, side in enumerate((-1.0, 1.0)):
        low, high, name = f"c{index + 1}", f"a{index + 1}", f"strap {index + 1}"
        if layout == "side by side":
            placement = Placement(origin_mm=(40 * side, 0, 0))
            foot, direction = (40 * side, 0.0, 0.0), (0.0, 0.0, 1.0)
        elif layout == "in line":
            placement = Placement(origin_mm=(0, 40, 50 * side))
            foot, direction = (0.0, 40.0, 50 * side), (0.0, 0.0, 1.0)
        elif layout == "across":
            placement = Placement(origin_mm=(40 * side, 0, 0), x_axis=(0, 0, -side), y_axis=(0, 1, 0))
            foot, direction = (40 * side, 0.0, 0.0), (side, 0.0, 0.0)
        else:
            raise ValueError(layout)
        holes = [
            Hole(name=low, centre_mm=(0, 0), diameter_mm=hole_mm),
            Hole(name=high, centre_mm=(0, length_mm), diameter_mm=hole_mm),
        ]
        plates.append(rectangle(name, (-20, 20), (-20, length_mm + 20), holes, placement=placement))
        bosses.append(boss(low, foot, direction=direction, thread=size))
        top = (foot[0], foot[1] + length_mm, foot[2])
        anchors.append(Anchor(name=high, at_mm=top, word=WORD))
        given = {"size": size, "grade": grade, "tightening_nm": tightening_nm}
        bolts.append(bolt(low, name, AtBoss(boss=low), **given))
        bolts.append(bolt(high, name, AtAnchor(anchor=high), **given))
    return Bracket(
        title=f"two straps {layout}",
        plates=tuple(plates),
        casing=casing(bosses),
        column=column,
        wheel=Wheel(diameter_mm=350, station_mm=410),
        rake_deg=0,
        bolts=tuple(bolts),
        anchors=tuple(anchors),
        loads=Loads(couple=StatedCouple(couple_nm=couple_nm)),
    )


def bolt_group(
    places_mm: Sequence[tuple[float, float]],
    *,
    size: str = "M16",
    hole_mm: float = 18.0,
    pad_mm: float = 30.0,
    thickness_mm: float = 60.0,
    casing_places_mm: Sequence[tuple[float, float]] = ((-12, 0), (12, 0)),
    casing_hole_mm: float = 9.0,
    stiffer: float = 1.0,
    loads: Loads | None = None,
) -> Bracket:
    """Return a plate on anchors at the given places, the casing bolted to its middle; nothing else holds it.

    Weightless, so that a load case is its load and no more. Bolts to anchors are g1, g2 and
    so on, to bosses c1 and so on.
    `stiffer` is the plate's elastic modulus over that of steel.
    """
    x, y = np.array([*places_mm, *casing_places_mm], dtype=float).T
    edge = 2.0 * pad_mm
    holes = [Hole(name=f"g{i}", centre_mm=at, diameter_mm=hole_mm) for i, at in enumerate(places_mm, 1)]
    bosses, bolts = [], []
    for i, at in enumerate(casing_places_mm, 1):
        holes.append(Hole(name=f"c{i}", centre_mm=at, diameter_mm=casing_hole_mm))
        bosses.append(boss(f"c{i}", (*at, 0.0), metal="steel"))
        bolts.append(bolt(f"c{i}", "plate", AtBoss(boss=f"c{i}")))
    washer = Washer(outer_mm=pad_mm, inner_mm=hole_mm, thickness_mm=3)
    for i in range(1, len(places_mm) + 1):
        joins = AtAnchor(anchor=f"g{i}")
        bolts.append(bolt(f"g{i}", "plate", joins, size=size, pad_diameter_mm=pad_mm, washer=washer))
    return Bracket(
        title="bolt group",
        materials=(WEIGHTLESS_STEEL.but(elastic_modulus_mpa=stiffer * 210_000),),
        plates=(
            rectangle(
                "plate",
                (float(x.min()) - edge, float(x.max()) + edge),
                (float(y.min()) - edge, float(y.max()) + edge),
                holes,
                thickness_mm,
                "weightless steel",
            ),
        ),
        casing=casing(bosses),
        column=NO_BEARINGS,
        rake_deg=0,
        bolts=tuple(bolts),
        anchors=tuple(Anchor(name=f"g{i}", word=WORD) for i in range(1, len(places_mm) + 1)),
        loads=loads or Loads(couple=StatedCouple(couple_nm=30), pull_n=0, weight_g=0),
    )


def linked(bracket: Bracket, out: Collection[str] = ()) -> tuple[Linkage, list[Weightless]]:
    """Return the linkage of a bracket and as many weightless plates, without meshing anything."""
    return linkage_of(bracket, place_bolts(bracket), out=out), [Weightless() for _ in bracket.plates]


def meshed(
    bracket: Bracket, size_mm: float | None = None, *, layers: int = 1, judged: bool = True
) -> tuple[MeshedPlate, ...]:
    """Return the plates of a bracket condensed on one mesh each.

    Without `judged` the judged circles are no mesh lines.
    """
    places = place_bolts(bracket)
    found = []
    for index, plate in enumerate(bracket.plates):
        footprints = footprints_of(places, plate.name)
        if not judged:
            footprints = tuple(replace(f, judged_beyond=()) for f in footprints)
        welds = weld_marks(bracket, index)
        mesh = mesh_plate(plate, footprints, size_mm, layers=layers, welds=welds)
        found.append(meshed_plate(bracket, index, mesh, places))
    return tuple(found)


def solved_once(bracket: Bracket, size_mm: float | None = None, *, layers: int = 1) -> Solved:
    """Return the bracket solved on one mesh, not refined."""
    return solved_on(bracket, meshed(bracket, size_mm, layers=layers))


def solved_on(bracket: Bracket, plates: Sequence[MeshedPlate]) -> Solved:
    """Return the bracket solved on plates that are condensed already."""
    sections = [section for plate in plates for section in plate.sections]
    return solved(bracket, [p.condensed for p in plates], [p.survey for p in plates], sections)


def welded_strip(
    width_mm: float = 40.0,
    length_mm: float = 120.0,
    thickness_mm: float = 6.0,
    throat_mm: float = 4.0,
    *,
    poisson: float = 0.0,
    anchor: bool = True,
    **given: object,
) -> Bracket:
    """Return a strip square to the shaft, its lower edge at y = 0 welded to an anchor, the casing at its top.

    Weightless; two bolts 20 mm below its top join the casing. `given` changes the weld.
    """
    at = ((-9.0, length_mm - 20.0), (9.0, length_mm - 20.0))
    holes = [Hole(name=f"c{i}", centre_mm=place, diameter_mm=6.6) for i, place in enumerate(at, 1)]
    bosses = [boss(f"c{i}", (*place, 0.0), metal="steel", thread="M6") for i, place in enumerate(at, 1)]
    half = width_mm / 2.0
    fields: dict[str, object] = {
        "name": "foot",
        "plate": "strip",
        "from_mm": (-half, 0.0),
        "to_mm": (half, 0.0),
        "joins": AtAnchor(anchor="floor") if anchor else AtDashBar(),
        "throat_mm": throat_mm,
        "seen_by": WORD,
    }
    return Bracket(
        title="welded strip",
        materials=(WEIGHTLESS_STEEL.but(poisson=poisson),),
        plates=(
            rectangle("strip", (-half, half), (0.0, length_mm), holes, thickness_mm, "weightless steel"),
        ),
        casing=casing(bosses),
        column=NO_BEARINGS,
        rake_deg=0,
        bolts=tuple(bolt(b.name, "strip", AtBoss(boss=b.name), size="M6", tightening_nm=9) for b in bosses),
        welds=(Weld.model_validate(fields | given),),
        anchors=(Anchor(name="floor", at_mm=(0.0, 0.0, thickness_mm / 2.0), word=WORD),),
        loads=Loads(couple=StatedCouple(couple_nm=30), pull_n=0, weight_g=0),
    )
