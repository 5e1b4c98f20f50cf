"""The command line with the analysis itself behind it: one flat plate between casing and four anchors."""

from __future__ import annotations

import _thread
import json
import signal
import threading
from pathlib import Path

import meshio
import numpy as np
import pytest

from app.cli.main import main
from app.cli.stoppable import stoppable, work_left_behind
from geometry.bracket import Bracket
from geometry.bracket_file import save_bracket
from geometry.casing import Bearing, Boss, Casing, Column, Envelope, Wheel
from geometry.fixing import Anchor, AtAnchor, AtBoss, Bolt
from geometry.loads import Loads, StatedCouple
from geometry.plate import Corner, Hole, Plate

_BOSSES = ((-40.0, -20.0), (40.0, -20.0), (0.0, 40.0))
_ANCHORS = ((-60.0, 85.0), (60.0, 85.0), (-60.0, -60.0), (60.0, -60.0))


def _flat_bracket() -> Bracket:
    outline = ((-80.0, -80.0), (80.0, -80.0), (80.0, 105.0), (-80.0, 105.0))
    holes = [Hole(name=f"c{i}", centre_mm=p, diameter_mm=9.0) for i, p in enumerate(_BOSSES)]
    holes += [Hole(name=f"a{i}", centre_mm=p, diameter_mm=9.0) for i, p in enumerate(_ANCHORS)]
    plate = Plate(
        name="front",
        material="S235",
        thickness_mm=6.0,
        outline=tuple(Corner(at_mm=p, radius_mm=8.0) for p in outline),
        openings=(*holes, Hole(name="shaft", centre_mm=(0.0, 0.0), diameter_mm=36.0)),
    )
    bosses = tuple(
        Boss(name=f"b{i}", at_mm=(*p, 0.0), thread="M8", depth_mm=16.0, face_diameter_mm=20.0)
        for i, p in enumerate(_BOSSES)
    )
    to_casing = tuple(
        Bolt(name=f"{i + 1}", size="M8", grade="8.8", plate="front", hole=f"c{i}", joins=AtBoss(boss=f"b{i}"))
        for i in range(len(_BOSSES))
    )
    to_anchors = tuple(
        Bolt(
            name=f"{i + 4}",
            size="M8",
            grade="8.8",
            plate="front",
            hole=f"a{i}",
            joins=AtAnchor(anchor=f"k{i}"),
        )
        for i in range(len(_ANCHORS))
    )
    return Bracket(
        title="flat plate between casing and anchors",
        plates=(plate,),
        casing=Casing(
            bosses=bosses,
            envelope=Envelope(low_mm=(-55.0, -55.0, -100.0), high_mm=(55.0, 55.0, 0.0)),
            mass_kg=4.5,
            mass_centre_mm=(0.0, 0.0, -50.0),
        ),
        column=Column(
            held_by="bearings",
            bearings=tuple(
                Bearing(name=name, station_mm=at, stiffness_n_per_mm=(2000.0, 5000.0))
                for name, at in (("upper", 300.0), ("lower", -200.0))
            ),
        ),
        wheel=Wheel(diameter_mm=360.0, station_mm=400.0),
        rake_deg=20.0,
        bolts=tuple(b.but(tightening_nm=20.0, locking="thread lock") for b in to_casing + to_anchors),
        anchors=tuple(
            Anchor(name=f"k{i}", word="welded, as the builder states") for i in range(len(_ANCHORS))
        ),
        loads=Loads(couple=StatedCouple(couple_nm=20.0)),
    )


@pytest.fixture(scope="module")
def bracket_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("end_to_end") / "flat.bracket.json"
    save_bracket(path, _flat_bracket())
    return path


def test_verdict_json_and_mesh_agree(bracket_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    mesh_file = bracket_file.with_name("flat.vtu")
    code = main(["check", str(bracket_file), "--json", "--mesh", str(mesh_file)])
    data = json.loads(capsys.readouterr().out)
    assert (
        code == data["exit_code"] == {"pass": 0, "marginal": 1, "fail": 1, "no verdict": 2}[data["verdict"]]
    )
    assert data["verdict"] != "no verdict", data["reasons"]
    assert data["accuracy"]["refined"]
    assert data["hash"] == _flat_bracket().input_hash()
    assert data["holds_to_nm"] > 0.0
    assert {b["name"] for b in data["bolts"]} == {"1", "2", "3", "4", "5", "6", "7"}
    for check in data["checks"]:
        if check["used"] is not None:
            assert check["used"] == pytest.approx(check["demand"] / check["allowable"])
    # what the casing's bolts put on the plate, the anchors' take off it again; its own weight is left
    for case in data["cases"]:
        total = np.sum([sheet["force_n"] for sheet in case["sheets"]], axis=0)
        largest = max(float(np.linalg.norm(sheet["force_n"])) for sheet in case["sheets"])
        assert float(np.linalg.norm(total)) < max(0.05 * largest, 60.0)
    mesh = meshio.read(mesh_file)
    assert mesh.cells[0].type == "tetra10"
    assert mesh.point_data["displacement_mm"].shape == mesh.points.shape
    # the plate is 160 x 185 x 6 mm, and its back stands at the bosses' faces
    assert np.ptp(mesh.points, axis=0) == pytest.approx([160.0, 185.0, 6.0], abs=0.01)


def test_limits_of_ones_own_reach_the_checks(bracket_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    strict = bracket_file.with_name("strict.json")
    strict.write_text('{"movement_mm": 1e-6}')
    code = main(["check", str(bracket_file), "--quick", "--json", "--limits", str(strict)])
    data = json.loads(capsys.readouterr().out)
    assert code == 2
    assert data["verdict"] == "no verdict"
    assert data["limits_from"] == str(strict)
    movement = next(c for c in data["checks"] if c["name"] == "movement")
    assert movement["allowable"] == 1e-6
    assert movement["used"] > 1.0


def test_work_stops_when_the_key_is_pressed() -> None:
    let_go = threading.Event()

    def work() -> int:
        let_go.wait(60.0)
        return 1

    # Started in the background a process ignores the key, and so would this test.
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    threading.Timer(0.3, _thread.interrupt_main).start()
    try:
        with pytest.raises(KeyboardInterrupt):
            stoppable(work)
        assert work_left_behind()
    finally:
        let_go.set()
        signal.signal(signal.SIGINT, before)


def test_what_the_work_raises_is_raised() -> None:
    def work() -> int:
        raise LookupError("spoon")

    with pytest.raises(LookupError, match="spoon"):
        stoppable(work)
    assert stoppable(lambda: 7) == 7
