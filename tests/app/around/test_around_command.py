"""The command that tells what stands around a bracket, and its picture."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from PIL import Image

from app.cli.main import main
from geometry.bracket_file import read_bracket, save_bracket
from geometry.installation import Installation, ShaftLine

SAMPLES = Path(__file__).parents[3] / "sample_brackets"
INSTALLED = SAMPLES / "marlpit_installed.bracket.json"
WRONG = SAMPLES / "marlpit_installed_wrong.bracket.json"


def test_each_standing_has_its_exit_code(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["around", str(INSTALLED)]) == 0
    assert main(["around", str(WRONG)]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "FAILS fuse against cable: a fuse of 100 A" in said
    assert main(["around", str(SAMPLES / "marlpit_one_piece.bracket.json")]) == 2
    assert "nobody has said how the column slides together" in " ".join(capsys.readouterr().out.split())


def test_json_holds_every_line_with_its_figures(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["around", str(WRONG), "--json"]) == 1
    lines = json.loads(capsys.readouterr().out)["around"]
    fuse = next(line for line in lines if line["name"] == "fuse against cable")
    assert fuse["standing"] == "fails"
    assert fuse["value"] == 100.0
    assert fuse["value"] > fuse["limit"] > 0.0
    assert fuse["unit"] == "A"


@pytest.mark.parametrize("look", ["paper", "slate"])
def test_picture_is_drawn(tmp_path: Path, look: str) -> None:
    out = tmp_path / "around.png"
    main(["around", str(WRONG), "--picture", str(out), "--theme", look])
    with Image.open(out) as picture:
        assert picture.size == (960, 640)
        assert len(picture.convert("RGB").getcolors(maxcolors=1 << 20) or ()) > 50


def test_picture_of_a_bracket_nothing_is_said_of(tmp_path: Path) -> None:
    out = tmp_path / "around.png"
    assert main(["around", str(SAMPLES / "gauge_tray.bracket.json"), "--picture", str(out)]) == 2
    assert out.stat().st_size > 1000


def test_bad_input_is_told_in_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["around", str(tmp_path / "none.bracket.json")]) == 64
    assert main(["around", str(WRONG), "--picture", str(tmp_path / "no" / "x.png")]) == 64
    assert main(["around", str(WRONG), "--picture", str(tmp_path / "x.gif")]) == 64
    assert "x.gif is not named as one" in " ".join(capsys.readouterr().err.split())


def test_places_that_are_no_shaft_are_told_and_drawn_as_blank(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bracket = read_bracket(INSTALLED).bracket
    assert bracket is not None
    line = ShaftLine(places_mm=((0, 0, 0), (0, 0, 0), (0, 0, 5)))
    path = tmp_path / "same.bracket.json"
    save_bracket(path, bracket.but(installation=Installation(shaft=line)))
    assert main(["around", str(path), "--picture", str(tmp_path / "same.png")]) == 2
    assert "are the same" in " ".join(capsys.readouterr().out.split())


def test_what_a_file_says_wrongly_around_the_bracket_leaves_the_bracket_judged(tmp_path: Path) -> None:
    data = json.loads(INSTALLED.read_text(encoding="utf-8"))
    data["installation"]["wiring"]["fuse_a"] = -3
    data["installation"]["collapse"]["parts"][0] = "a tube"
    data["installation"]["room"]["kept_clear"][1]["low_mm"] = [1, 2]
    path = tmp_path / "wrong.bracket.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    reading = read_bracket(path)
    assert reading.bracket is not None
    assert {finding.severity for finding in reading.findings} == {"doubt"}
    assert reading.bracket.plates
