"""A lug so small that washer and weld leave no place of it where stress is judged."""

from __future__ import annotations

from geometry.fixing import AtBoss
from geometry.placing import place_bolts
from geometry.plate import Hole
from solver.kept_plates import KeptPlates
from tests.brackets import bolt, boss, casing, rectangle, welded_strip


def test_a_small_welded_lug_is_solved() -> None:
    """It ended in a fault: an empty table of stresses has no number of rows to work out."""
    lug = rectangle(
        "strip", (-7.5, 7.5), (0.0, 17.5), [Hole(name="c1", centre_mm=(0, 9), diameter_mm=5.5)], 6.0
    )
    bracket = welded_strip(width_mm=15.0).but(
        plates=(lug,),
        casing=casing([boss("c1", (0, 9, 0), thread="M5")]),
        bolts=(bolt("c1", "strip", AtBoss(boss="c1"), size="M5", tightening_nm=5),),
    )
    (plate,) = KeptPlates().first(bracket, place_bolts(bracket))
    assert len(plate.survey.nodes) == 0
    assert plate.studied.on_other_beds.stress.shape[0] == 0
