"""Everything that is exported, to places that take nothing: a sentence that names the place, no litter."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Final
from unittest.mock import patch

from PySide6.QtGui import QPixmap

from app.cutting.cut_file import write_cut
from app.paper import paper_file
from app.record.record_file import save_record
from app.register.csv_list import write_csv
from app.report import report_file
from app.window.picture_file import picture_written
from geometry.mesh_export import export_vtu
from geometry.plate_mesh import mesh_plate
from tests.app.record.examples import settled_record
from tests.faults.poor_disk import no_file_above
from tests.faults.tried import Tried
from tests.geometry.example_bracket import example_bracket

_PLATE: Final = example_bracket().plates[0]
_MUCH: Final = b"%PDF-1.4\n" + b"x" * 10_000


def _paper(path: Path) -> None:
    with patch.object(paper_file, "paper_bytes", lambda *_: _MUCH):
        paper_file.write_paper(None, "drawing", path)  # type: ignore[arg-type]


def _report(path: Path) -> None:
    with patch.object(report_file, "report_pdf", lambda *_: _MUCH):
        report_file.write_report(None, path)  # type: ignore[arg-type]


def _picture(path: Path) -> None:
    pixmap = QPixmap(400, 400)
    pixmap.fill("white")
    if why := picture_written(pixmap, path):
        raise OSError(why)


def _mesh(path: Path) -> None:
    export_vtu(path, mesh_plate(_PLATE, size_mm=40.0))


EXPORTS: Final[tuple[tuple[str, str, Callable[[Path], None]], ...]] = (
    ("cutter's file, DXF", ".dxf", lambda path: write_cut(_PLATE, path)),
    ("cutter's file, SVG", ".svg", lambda path: write_cut(_PLATE, path)),
    ("paper", ".pdf", _paper),
    ("report", ".pdf", _report),
    ("record", ".record.json", lambda path: save_record(path, settled_record())),
    ("register as CSV", ".csv", lambda path: write_csv(path, (), date(2031, 4, 30))),
    ("picture", ".png", _picture),
    ("mesh", ".vtu", _mesh),
)


@contextlib.contextmanager
def _folder_there(path: Path) -> Iterator[Path]:
    path.mkdir()
    yield path


@contextlib.contextmanager
def _no_folder(path: Path) -> Iterator[Path]:
    yield path.parent / "gone" / path.name


@contextlib.contextmanager
def _too_long(path: Path) -> Iterator[Path]:
    yield path.with_name("x" * 300 + path.name)


@contextlib.contextmanager
def _pipe(path: Path) -> Iterator[Path]:
    os.mkfifo(path)
    yield path


@contextlib.contextmanager
def _read_only(path: Path) -> Iterator[Path]:
    path.write_text("protected")
    path.chmod(0o444)
    yield path
    assert path.read_text() == "protected", "a file that may only be read was written over"


@contextlib.contextmanager
def _full(path: Path) -> Iterator[Path]:
    path.write_text("old")
    with no_file_above(10):
        yield path
    assert path.read_text() == "old", "the old file is gone"


@contextlib.contextmanager
def _link_round(path: Path) -> Iterator[Path]:
    path.symlink_to(path)
    yield path


PLACES: Final = (
    ("a folder stands there", _folder_there),
    ("no such folder", _no_folder),
    ("name too long", _too_long),
    ("a pipe stands there", _pipe),
    ("the file may only be read", _read_only),
    ("disk takes nothing", _full),
    ("a link to itself", _link_round),
)


def tried() -> Iterator[Tried]:
    """Yield what came of every export to every such place."""
    for name, ending, write in EXPORTS:
        one = Tried("export to a place that takes nothing", name)
        for place, made in PLACES:
            with tempfile.TemporaryDirectory() as folder:
                one.note(_export(Path(folder), ending, write, made), place)
        yield one


def _export(folder: Path, ending: str, write: Callable[[Path], None], made: Callable[..., object]) -> str:
    """Return what is wrong with an export that had to fail, or nothing."""
    place = made(folder / f"x{ending}")
    assert isinstance(place, contextlib.AbstractContextManager)
    with place as path:
        before = sorted(folder.iterdir())
        try:
            write(path)
        except (OSError, ValueError) as error:
            said = str(error)
        else:
            return "it was written, or nothing was said"
    if path.name[:40] not in said or not any(mark in said for mark in (":", "; ")):
        return f"no place or no next step in {said!r}"
    if sorted(folder.iterdir()) != before:
        return f"left lying: {sorted(p.name for p in folder.iterdir())}"
    return ""
