"""`python3 app picture`: a PNG of the asked size with ink on it, without any display."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtGui import QColor, QImage

from app.theme import PAPER, SLATE
from geometry.bracket_file import save_bracket
from tests.app.running import Runner
from tests.brackets import one_piece

_ROOT = Path(__file__).resolve().parents[3]


def picture(file: Path, out: Path, *options: str) -> subprocess.CompletedProcess[str]:
    kept = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")}
    return subprocess.run(
        [sys.executable, "-c", _RUN, "picture", str(file), "-o", str(out), *options],
        env=kept | {"PYTHONPATH": str(_ROOT)},
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )


_RUN = "import sys; from app.cli.main import main; sys.exit(main())"


@pytest.mark.parametrize(
    ("options", "size", "ground"),
    [
        ((), (1280, 720), PAPER.ground),
        (("--size", "1024x640", "--theme", "slate", "--view", "mounted"), (1024, 640), SLATE.ground),
        pytest.param(
            ("--sheet", "record", "--size", "1600x900", "--scale", "125"),
            (1600, 900),
            PAPER.ground,
            marks=pytest.mark.long,
        ),
        pytest.param(
            ("--sheet", "lesson", "--theme", "slate"), (1280, 720), SLATE.ground, marks=pytest.mark.long
        ),
    ],
)
def test_a_picture_has_its_size_its_ground_and_ink(
    options: tuple[str, ...], size: tuple[int, int], ground: str, tmp_path: Path
) -> None:
    file, out = tmp_path / "tiny.bracket.json", tmp_path / "sheet.png"
    save_bracket(file, one_piece().but(plates=()))  # nothing to solve: it is the drawing that is tested
    before = sorted(tmp_path.iterdir())
    outcome = picture(file, out, *options)
    assert outcome.returncode == 0, outcome.stderr
    image = QImage(str(out))
    assert (image.width(), image.height()) == size
    seen = [image.pixelColor(x, y) for x in range(0, size[0], 3) for y in range(0, size[1], 3)]
    assert sum(colour == QColor(ground) for colour in seen) > 0.5 * len(seen)
    inked = sum(abs(colour.lightness() - QColor(ground).lightness()) > 100 for colour in seen)
    assert inked > 0.005 * len(seen)
    assert sorted(tmp_path.iterdir()) == sorted([*before, out])


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("nothing.bracket.json", "-o", "x.png"), "There is no file nothing.bracket.json"),
        (("here.bracket.json", "-o", "x.gif"), "end its name in .png"),
        (("here.bracket.json", "-o", "away/x.png"), "name a file in a folder that is there"),
        (("here.bracket.json", "-o", "x.png", "--size", "big"), "The size big is not one"),
        (("here.bracket.json", "-o", "x.png", "--size", "9000x10"), "The size 9000x10 is not one"),
        (("here.bracket.json", "-o", "x.png", "--size", "10x10"), "at least 640x360 and at most 8000x8000"),
        (("here.bracket.json", "-o", "x.png", "--size", "1280x359"), "at least 640x360 and at most"),
        (
            ("here.bracket.json", "-o", "x.png", "--size", "1000x600", "--scale", "200"),
            "at least 1280x720 with --scale 200",
        ),
        (("here.bracket.json", "-o", "x.png", "--theme", "blue"), "'blue' is not one of 'paper', 'slate'"),
        (("here.bracket.json",), "picture needs a bracket file and a picture to write"),
    ],
)
def test_wrong_usage_is_64_with_a_sentence(cli: Runner, options: tuple[str, ...], words: str) -> None:
    cli.bracket_file("here")
    outcome = cli.run("picture", *options)
    assert outcome.code == 64
    assert words in " ".join(outcome.err.split())


def test_in_inches_it_is_another_picture(tmp_path: Path) -> None:
    file, out = tmp_path / "tiny.bracket.json", tmp_path / "sheet.png"
    save_bracket(file, one_piece().but(plates=()))
    drawn = []
    for options in (("--units", "mm"), ("--units", "inch")):
        outcome = picture(file, out, *options)
        assert outcome.returncode == 0, outcome.stderr
        drawn.append(QImage(str(out)))
    assert drawn[0] != drawn[1]
