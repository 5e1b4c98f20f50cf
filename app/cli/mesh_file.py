"""Where `--mesh` writes to: checked before the analysis, one file per plate where there are several."""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from solver.results import Results

ENDING = ".vtu"


class MeshFileError(ValueError):
    """A place no mesh can be written to; the message says what to name instead."""


def check_mesh_path(path: Path) -> None:
    """Return if a mesh can be written there; MeshFileError if not."""
    if path.suffix != ENDING:
        advice = path.with_name((path.stem or "mesh") + ENDING)
        raise MeshFileError(f"--mesh writes {ENDING} files: name one, such as {advice}, not {path}.")
    folder = path.parent
    if not folder.is_dir():
        raise MeshFileError(f"There is no folder {folder} to write {path.name} into: make it first.")
    if path.is_dir():
        raise MeshFileError(f"{path} is a folder: name a file in it, such as {path / ('mesh' + ENDING)}.")
    if not os.access(folder, os.W_OK) or (path.exists() and not os.access(path, os.W_OK)):
        raise MeshFileError(f"{path} cannot be written: choose a folder that is yours.")


def mesh_paths(path: Path, plates: tuple[str, ...]) -> tuple[Path, ...]:
    """Return one path per plate: the path itself for a single plate, `out-PLATE.vtu` for several.

    Plate names come from strangers' files: only letters, digits, `-` and `_` of them reach a file name.
    """
    if len(plates) == 1:
        return (path,)
    taken: set[str] = set()
    paths = []
    for plate in plates:
        stem = name = re.sub(r"[^\w-]+", "_", plate).strip("_") or "plate"
        number = 1
        while name.casefold() in taken:
            number += 1
            name = f"{stem}-{number}"
        taken.add(name.casefold())
        paths.append(path.with_name(f"{path.stem}-{name}{path.suffix}"))
    return tuple(paths)


def write_mesh(path: Path, results: Results) -> tuple[Path, ...]:
    """Write displacement and stress of each plate and return the paths written; none if nothing was solved.

    MeshFileError if a file cannot be written.
    """
    if not results.plates:
        return ()
    # late: the library that writes meshes is wanted by this option alone
    from geometry.mesh_export import ExportError, export_vtu

    paths = mesh_paths(path, tuple(p.plate for p in results.plates))
    for place, plate in zip(paths, results.plates, strict=True):
        try:
            export_vtu(
                place, plate.mesh, displacement_mm=plate.displacement_mm, von_mises_mpa=plate.von_mises_mpa
            )
        except ExportError as error:
            raise MeshFileError(f"{error}.") from error
    return paths
