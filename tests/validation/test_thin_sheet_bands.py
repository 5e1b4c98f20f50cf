"""A thinner sheet: bending stress goes as 1/t2, deflection as 1/t3, bearing as 1/t."""

from __future__ import annotations

from geometry.bracket import Bracket
from geometry.casing import Wheel
from geometry.fixing import Anchor, AtAnchor, AtBoss
from geometry.loads import Loads, StatedCouple
from geometry.placing import place_bolts
from geometry.plate import Hole
from solver.asides import how_sure_of
from solver.kept_plates import KeptPlates
from solver.stages import stage_on
from tests.brackets import NO_BEARINGS, WORD, bolt, boss, casing, rectangle
from tests.validation.reference import agrees

PLATES = "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells: cylindrical bending (closed form)"
BEARING = "EN 1993-1-8 table 3.4, bearing (published)"
THICK_MM, THINNER_MM = 6.0, 0.3


def _strip() -> Bracket:
    """A strip bent out of its plane by a pull, with nothing else to carry it: statics give its moments."""
    places = {"c1": (-16.0, 0.0), "c2": (16.0, 0.0), "a1": (-16.0, 150.0), "a2": (16.0, 150.0)}
    holes = [Hole(name=name, centre_mm=at, diameter_mm=9) for name, at in places.items()]
    strip = rectangle("strip", (-30, 30), (-20, 170), holes, THICK_MM)
    bolts = [bolt(name, "strip", AtBoss(boss=name)) for name in ("c1", "c2")]
    bolts += [bolt(name, "strip", AtAnchor(anchor=name)) for name in ("a1", "a2")]
    return Bracket(
        title="strip",
        plates=(strip.but(thickness_tolerance_mm=THINNER_MM),),
        casing=casing([boss(name, (*places[name], 0.0)) for name in ("c1", "c2")]),
        column=NO_BEARINGS,
        wheel=Wheel(diameter_mm=350, station_mm=20),
        rake_deg=0,
        bolts=tuple(bolts),
        anchors=tuple(Anchor(name=name, word=WORD) for name in ("a1", "a2")),
        loads=Loads(couple=StatedCouple(couple_nm=0.5)),
    )


def test_a_thinner_sheet_bends_and_bears_as_theory_says() -> None:
    bracket, kept = _strip(), KeptPlates()
    first = stage_on(bracket, kept.first(bracket, place_bolts(bracket)))
    rise = how_sure_of(bracket, first, kept)[0].thickness
    share = THICK_MM / (THICK_MM - THINNER_MM)
    for check, power, source in (
        ("stress, strip", 2, PLATES),
        ("movement with a pull, slipped", 3, PLATES),
        ("bearing", 1, BEARING),
    ):
        agrees(
            1.0 + rise[check], share**power, 0.01, source=source, name=f"{check}, 5 % thinner over nominal"
        )
