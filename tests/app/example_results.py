"""Results with invented figures, to see how they are written out; they check no computation."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from geometry.bracket import Bracket
from geometry.casing import Boss, Casing, Column, Envelope
from geometry.finding import Finding
from geometry.fixing import AtBoss, Bolt
from geometry.loads import Loads, StatedCouple
from geometry.plate import Corner, Hole, Plate
from geometry.solid_mesh import SolidMesh
from solver.results import (
    Accuracy,
    BoltResult,
    CaseResult,
    CasingMovement,
    Check,
    ConnectionSheet,
    FreeMotion,
    FrictionShare,
    OneBoltLost,
    PlateField,
    Results,
    TurnShare,
    Verdict,
)

STRESS = Check(
    name="stress, plate front",
    demand=98.0,
    allowable=156.7,
    unit="MPa",
    band=0.031,
    source="EN 10025-2, yield / 1.5",
    where="beside hole h2, on the judged circle",
    case="couple one way, pull sideways",
    by_hand=60.0,
    by_hand_words="strip in bending",
    note="The strip leaves out the fold, which stiffens one side only.",
)
SLIP = Check(
    name="slip, bolt 3",
    demand=0.42,
    allowable=1.0,
    unit="",
    band=0.0,
    source="EN 1993-1-8 3.9",
    where="bolt 3",
    case="couple one way",
    by_hand=0.40,
    by_hand_words="four equal bolts on a circle",
)
SHEAR = Check(
    name="bolt shear and tension combined, bolt 3 at the dash bar",
    demand=2310.0,
    allowable=14050.0,
    unit="N",
    band=0.02,
    source="EN 1993-1-8 table 3.4",
    where="bolt 3",
    case="couple one way",
)
EDGE = Check(
    name="edge distance e1, hole h2",
    demand=10.8,
    allowable=14.0,
    unit="mm",
    band=0.0,
    source="EN 1993-1-8 table 3.3",
    where="plate front, hole h2",
    kind="rule",
)
TURN = Check(
    name="turn under the couple",
    demand=0.031,
    allowable=0.1,
    unit="deg",
    band=0.02,
    source="common practice, no source",
    where="casing",
    case="couple as measured",
    kind="movement",
)


def example_bracket() -> Bracket:
    """Return a small bracket with one plate, one boss and one bolt."""
    plate = Plate(
        name="front",
        material="S235",
        thickness_mm=6.0,
        outline=tuple(Corner(at_mm=p) for p in ((0.0, 0.0), (80.0, 0.0), (80.0, 60.0), (0.0, 60.0))),
        openings=(Hole(name="h1", centre_mm=(40.0, 30.0), diameter_mm=9.0),),
    )
    return Bracket(
        title="Marlpit, one piece",
        plates=(plate,),
        casing=Casing(
            bosses=(Boss(name="b1", at_mm=(0.0, 40.0, 0.0), thread="M8", face_diameter_mm=18.0),),
            envelope=Envelope(low_mm=(-50.0, -50.0, -90.0), high_mm=(50.0, 50.0, 0.0)),
            mass_kg=4.0,
        ),
        column=Column(held_by="nothing"),
        bolts=(
            Bolt(
                name="bolt 1",
                size="M8",
                grade="8.8",
                plate="front",
                hole="h1",
                joins=AtBoss(boss="b1"),
                locking="medium thread lock",
            ),
        ),
        loads=Loads(couple=StatedCouple(couple_nm=30.0)),
    )


def example_results(verdict: Verdict = "pass") -> Results:
    """Return results of that verdict, with something in every field."""
    return Results(
        title="Marlpit, one piece",
        verdict=verdict,
        reasons=("Every check stays below 80 %.",),
        couple_nm=30.0,
        couple_factor=2.0,
        couple_source="stated by the builder",
        holds_to_nm=71.3,
        ended_by="bolt 3 slips",
        friction_fails_nm=88.0,
        governs=STRESS,
        checks=(SLIP, SHEAR, EDGE, STRESS, TURN),
        casing=CasingMovement(turn_deg=0.0123, lean_deg=0.0045, movement_mm=0.0512, lash_deg=0.731),
        friction_share=FrictionShare(share=0.21, stuck_nm_per_deg=812.0, slipped_nm_per_deg=641.5),
        turn_shares=(
            TurnShare("plate", 0.412),
            TurnShare("dash bar", 0.353),
            TurnShare("bolts", 0.231),
            TurnShare("spacers", 0.003),
            TurnShare("ends of the dash bar", 0.001),
        ),
        free_motions=(),
        bolts=(
            BoltResult("bolt 1", "stuck", 803.0, 122.0, 1.32, 2.1, 0.31, "couple one way"),
            BoltResult("bolt 3", "slipped", 1203.0, 422.0, 0.0, 3.1, None, "couple one way, pull sideways"),
        ),
        cases=(
            CaseResult(
                name="couple+",
                words="couple one way and weight",
                state="stuck",
                turn_deg=0.02,
                lean_deg=0.004,
                movement_mm=0.06,
                sheets=(
                    ConnectionSheet(
                        "bolt 1",
                        np.array([1.0, 2.0, 3.0]),
                        np.array([4.0, 5.0, 6.0]),
                        np.array([7.0, 8.0, 9.0]),
                    ),
                ),
                unbalance=2e-12,
            ),
        ),
        one_bolt_lost=(
            OneBoltLost("bolt 1", "slip, bolt 3", 0.88, ""),
            OneBoltLost("bolt 3", "stress, plate front", 1.31, "the casing swings about bolt 1"),
        ),
        plates=(example_field("front"),),
        accuracy=Accuracy(
            refined=True,
            unknowns=(41_000, 103_000),
            ratio=1.52,
            change={"stress, plate front": 0.013},
            words="The largest change between two meshes is 1.3 %.",
            footprints="beds half and twice as stiff give 95% and 108% of the largest stress",
        ),
        findings=(Finding("blank-grade", "note", "bolt 2"),),
        assumptions=("The casing is rigid.", "Friction between the faces is 0.15."),
        flagged=("The limit on turn is 0.2 deg, looser than the usual 0.1 deg.",),
        not_computed=("Crash and occupant load.", "Weld quality."),
        hash="5f" * 32,
        version="0.1.0",
        seconds={"mesh": 0.4},
    )


def with_free_motion(results: Results) -> Results:
    """Return failed results with one driven free motion and one that no case drives."""
    body = {"casing": np.zeros(6)}
    return replace(
        results,
        verdict="fail",
        holds_to_nm=0.0,
        ended_by="the casing swings",
        reasons=("The couple drives a free motion.",),
        free_motions=(
            FreeMotion(
                "the casing swings sideways about the dash bar: nothing but friction stops it",
                ("couple one way", "couple the other way"),
                True,
                body,
            ),
            FreeMotion("the link turns about its own bolts", (), False, body),
        ),
    )


def example_field(plate: str) -> PlateField:
    """Return displacement and stress on one tetrahedron."""
    corners = np.array([[0.0, 0.0, 0.0], [10.0, 0.0, 0.0], [0.0, 10.0, 0.0], [0.0, 0.0, 10.0]])
    edges = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))
    points = np.vstack([corners, [(corners[a] + corners[b]) / 2.0 for a, b in edges]])
    mesh = SolidMesh(points=points, tets=np.arange(10, dtype=np.int64)[None, :])
    return PlateField(
        plate=plate,
        mesh=mesh,
        displacement_mm=np.zeros((10, 3)),
        von_mises_mpa=np.array([1.0, 2.0, 3.0, 4.0]),
        allowable_mpa=156.7,
        judged=np.ones(4, dtype=np.bool_),
        case="couple one way",
    )
