"""A bracket with twelve bolts, solved once: what the quick path is timed on."""

from __future__ import annotations

import math

from geometry.bracket import Bracket
from geometry.casing import Bearing, Boss, Casing, Column, Envelope, Wheel
from geometry.fixing import AtBoss, AtDashBar, BarEnd, Bolt, DashBar, RectangularTube
from geometry.loads import Loads, StatedCouple
from geometry.placing import place_bolts
from geometry.plate import Corner, Hole, Plate
from solver.mesh_stage import first_mesh, meshed_plate
from solver.solved import Solved, solved


def twelve_bolts() -> Solved:
    """Return the solved bracket: six bosses on a circle, six bolts to a square bar."""
    ring = [(42.0 * math.cos(a), 42.0 * math.sin(a)) for a in (math.radians(60.0 * i) for i in range(6))]
    row = [(-90.0 + 36.0 * i, 125.0) for i in range(6)]
    holes = tuple(Hole(name=f"h{i}", centre_mm=at, diameter_mm=9.0) for i, at in enumerate([*ring, *row]))
    outline = tuple(
        Corner(at_mm=at) for at in ((-110.0, -70.0), (110.0, -70.0), (110.0, 145.0), (-110.0, 145.0))
    )
    plate = Plate(name="plate", material="S275", thickness_mm=6.0, outline=outline, openings=holes)
    bosses = tuple(
        Boss(name=f"B{i}", at_mm=(x, y, 0.0), thread="M8", depth_mm=16.0, face_diameter_mm=20.0)
        for i, (x, y) in enumerate(ring)
    )
    bolts = tuple(
        Bolt(
            name=str(i + 1),
            size="M8",
            grade="8.8",
            plate="plate",
            hole=f"h{i}",
            joins=AtBoss(boss=f"B{i}") if i < 6 else AtDashBar(),
            tightening_nm=22.0,
        )
        for i in range(12)
    )
    bearings = tuple(
        Bearing(name=name, station_mm=z, stiffness_n_per_mm=(5000.0, 20000.0))
        for name, z in (("lower", -200.0), ("upper", 300.0))
    )
    welded = BarEnd(kind="welded")
    bracket = Bracket(
        plates=(plate,),
        casing=Casing(
            bosses=bosses, envelope=Envelope(low_mm=(-50, -50, -120), high_mm=(50, 50, 0)), mass_kg=5.0
        ),
        column=Column(held_by="bearings", bearings=bearings),
        wheel=Wheel(diameter_mm=350.0, station_mm=410.0),
        rake_deg=25.0,
        bolts=bolts,
        dash_bar=DashBar(
            from_mm=(-600.0, 125.0, -20.0),
            to_mm=(600.0, 125.0, -20.0),
            section=RectangularTube(width_mm=40.0, height_mm=40.0, wall_mm=3.0),
            ends=(welded, welded),
        ),
        loads=Loads(couple=StatedCouple(couple_nm=30.0)),
    )
    places = place_bolts(bracket)
    meshed = meshed_plate(bracket, 0, first_mesh(plate, places), places)
    return solved(bracket, [meshed.condensed], [meshed.survey], meshed.sections)
