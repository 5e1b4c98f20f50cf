"""A small bracket of the stories: soon judged, passes in one piece, racks when it is sawn in two."""

from __future__ import annotations

from geometry.bracket import Bracket
from geometry.casing import Wheel
from geometry.fixing import AtBoss, AtDashBar, DashBar, RectangularTube
from geometry.loads import Loads, StatedCouple
from geometry.plate import Hole
from tests.brackets import STIFF_BEARINGS, WELDED, bolt, boss, casing, rectangle

THICK_MM = 4.0
BOSSES = {"left": (-40.0, 40.0), "right": (40.0, 40.0)}
IN_BAR = {"bar 1": (-80.0, 80.0), "bar 2": (80.0, 80.0)}
SAW = ((0.0, -30.0), (0.0, 120.0))
"""Between the two pairs of bolts, each of which lies in line with the shaft: so the pieces rack."""


def unbolted() -> Bracket:
    """Return the plate above the shaft, without a hole, under a dash bar it touches; nothing is bolted."""
    return Bracket(
        title="for the saw",
        plates=(rectangle("plate", (-100, 100), (6, 100), (), THICK_MM),),
        # deep enough for the next longer bolt sold: M8 x 25
        casing=casing([boss(name, (*at, 0), depth_mm=22) for name, at in BOSSES.items()], mass_kg=3.0),
        column=STIFF_BEARINGS,
        wheel=Wheel(diameter_mm=350, station_mm=410),
        rake_deg=0,
        dash_bar=DashBar(
            from_mm=(-300, 80, THICK_MM + 20),
            to_mm=(300, 80, THICK_MM + 20),
            section=RectangularTube(width_mm=40, height_mm=40, wall_mm=3),
            ends=(WELDED, WELDED),
        ),
        loads=Loads(couple=StatedCouple(couple_nm=12)),
    )


def whole() -> Bracket:
    """Return the same with its four bolts."""
    bracket = unbolted()
    places = BOSSES | IN_BAR
    holes = [Hole(name=name, centre_mm=at, diameter_mm=9) for name, at in places.items()]
    bolts = [bolt(name, "plate", AtBoss(boss=name)) for name in BOSSES]
    bolts += [bolt(name, "plate", AtDashBar()) for name in IN_BAR]
    named = [b.but(name=str(number)) for number, b in enumerate(bolts, 1)]
    return bracket.with_plate(bracket.plates[0].but(openings=tuple(holes))).but(bolts=tuple(named))
