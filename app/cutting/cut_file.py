"""Cutter's files on the disk: of the kind the name's ending says, each replaced in one step."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from app.cutting.cut_lines import cut_lines
from app.files.named_file import write_named
from geometry.flat_segments import ShapeError
from geometry.plate import Plate

ENDINGS: Final = (".svg", ".dxf")


class CutFileError(ValueError):
    """A cutter's file that cannot be made; the message says of what, why and what to do."""


def write_cut(plate: Plate, path: Path, *, older: bool = False) -> None:
    """Write a plate's cut file, SVG or DXF by its ending; CutFileError if it cannot be made or written."""
    content = cut_content(plate, path.suffix.lower(), older=older)
    write_named(path, content, CutFileError)


def cut_content(plate: Plate, ending: str, *, older: bool = False) -> bytes:
    """Return the bytes of a plate's cut file; CutFileError for an impossible shape or another ending."""
    if ending not in ENDINGS:
        raise CutFileError(f"A cutter's file ends in .svg or .dxf, not {ending or 'nothing'}: name it so.")
    if older and ending != ".dxf":
        raise CutFileError("Only a DXF file comes in a form for older machines: end its name in .dxf")
    try:
        lines = cut_lines(plate)
    except ShapeError as error:
        raise CutFileError(f"There is nothing to cut yet. {error}.") from error
    if ending == ".svg":
        from app.cutting.cut_svg import cut_svg

        return cut_svg(lines).encode()
    # late: the library takes a while to start
    from app.cutting.cut_dxf import cut_dxf

    return cut_dxf(lines, older=older)
