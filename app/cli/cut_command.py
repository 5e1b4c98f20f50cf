"""`cut`: plates of a bracket file for a cutter."""

from __future__ import annotations

import difflib
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.page import complain, say
from app.cli.whole_bracket import whole_bracket
from app.exit_codes import BAD_USAGE
from app.files.named_file import why_not_there
from app.files.near_names import missing_file_sentence

if TYPE_CHECKING:
    from geometry.plate import Plate


def cut(file: Path, out: Path, *, plate: str | None, older: bool) -> int:
    """Write the plates of a file for a cutter and return the exit code: 0 or 64."""
    from app.cutting.cut_file import ENDINGS, CutFileError, write_cut

    if trouble := missing_file_sentence(file):
        complain(trouble)
        return BAD_USAGE
    if out.suffix.lower() not in ENDINGS:
        complain(f"A cutter's file ends in .svg or .dxf, and {out} does not: name it so.")
        return BAD_USAGE
    if trouble := why_not_there(out):
        complain(trouble)
        return BAD_USAGE
    plates = _plates(file, plate)
    if not plates:
        return BAD_USAGE
    from app.cli.mesh_file import mesh_paths

    paths = mesh_paths(out, tuple(p.name for p in plates))
    failed = False
    for one, path in zip(plates, paths, strict=True):
        try:
            write_cut(one, path, older=older)
        except CutFileError as error:
            complain(str(error))
            failed = True
            continue
        say(f"plate {one.name}: {path}")
    if not failed:
        say("This is the shape alone, not judged here: the command check says whether the bracket holds.")
    return BAD_USAGE if failed else 0


def _plates(file: Path, wanted: str | None) -> tuple[Plate, ...]:
    """Return the plates to write; none after a complaint."""
    bracket = whole_bracket(file, "nothing is cut from it")
    if bracket is None:
        return ()
    plates = bracket.plates
    if not plates:
        complain(f"There is no plate in {file.name}: draw one first.")
        return ()
    if wanted is None:
        return plates
    found = tuple(p for p in plates if p.name == wanted)
    if not found:
        names = [p.name for p in plates]
        near = difflib.get_close_matches(wanted, names, n=1, cutoff=0.5)
        advice = f"did you mean {near[0]}?" if near else f"there is: {', '.join(names)}."
        complain(f"There is no plate {wanted} in {file.name}; {advice}")
    return found
