"""What a bundle just built is asked to do before it is put in its place: use each library it carries once.

A library may be there and lack a file that it reads only when it is used; reading the program does not tell.
"""

from __future__ import annotations

import importlib
import pkgutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import numpy as np

from app.bundle.contents import DATA, NOT_IN_BUNDLE, PACKAGES

_SAMPLE: Final = "marlpit_two_straps.bracket.json"
_SVG: Final = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm"><rect width="40" height="20"/></svg>'
)
_DXF: Final = b"0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\n0\n10\n30\n20\n30\n40\n25\n0\nENDSEC\n0\nEOF\n"


def try_everything() -> None:
    """Import every module and use the libraries; whatever is missing is raised."""
    for name in _modules():
        importlib.import_module(name)
    _read_drawings()
    _keep_a_photograph()
    _keep_a_register()
    _take_a_report_apart()
    _paint_without_opengl()
    _judge_a_sample()


def _modules() -> Iterator[str]:
    for package in PACKAGES:
        yield package
        folder = importlib.import_module(package).__path__
        for found in pkgutil.walk_packages(folder, f"{package}."):
            if found.name not in NOT_IN_BUNDLE and not found.name.endswith("__main__"):
                yield found.name


def _read_drawings() -> None:
    from app.editing.outline_import import outline_in

    for content, name in ((_SVG, "plate.svg"), (_DXF, "plate.dxf")):
        outline_in(content, name, "mm")


def _keep_a_photograph() -> None:
    from app.editing.photo_image import jpeg_in, jpeg_of

    content, _, _ = jpeg_of(np.zeros((40, 60, 3), dtype=np.uint8), 60, 100_000)
    jpeg_in(content, 60)


def _keep_a_register() -> None:
    from app.register.database import Register
    from app.register.entry import Entry

    with tempfile.TemporaryDirectory() as folder:
        register = Register(Path(folder) / "trial.sqlite3")
        register.add([Entry(record_file="trial.record.json")])
        if len(register.newest()) != 1:
            raise FileNotFoundError(register.path)


def _take_a_report_apart() -> None:
    from app.report.pdf_files import PdfRefused, files_in

    try:
        files_in(b"%PDF-1.4")
    except PdfRefused:
        return
    raise ValueError("a PDF that is none was taken for one")


def _paint_without_opengl() -> None:
    from app.mounted.scene import Scene
    from app.mounted.still import Still

    Still().paint(Scene(size_px=(32, 32)).frame(), 1.0)


def _judge_a_sample() -> None:
    from geometry.bracket_file import read_bracket
    from solver.analyse import analyse

    bracket = read_bracket(Path(__file__).resolve().parents[2] / DATA[0] / _SAMPLE).bracket
    if bracket is None:
        raise FileNotFoundError(_SAMPLE)
    analyse(bracket, refine=False)
