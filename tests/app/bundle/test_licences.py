"""Licences of what a bundle carries."""

from __future__ import annotations

from importlib import metadata
from pathlib import Path

import pytest

from app.bundle import licences


def test_each_module_s_distribution_is_found_once() -> None:
    found = licences.distributions_of(["gmsh", "numpy", "shapely", "PIL", "app", "os"])
    assert found == ["gmsh", "numpy", "pillow", "shapely"]


@pytest.mark.parametrize("name", ["gmsh", "clarabel", "numpy", "scipy", "vtk", "matplotlib"])
def test_the_text_of_a_licence_is_found(name: str) -> None:
    texts = licences.licence_texts(metadata.distribution(name))
    assert any(len(path.read_text(encoding="utf-8", errors="replace")) > 500 for path in texts)


def test_every_distribution_has_a_folder_that_names_its_licence(tmp_path: Path) -> None:
    library = tmp_path / "libhome_made.so"
    library.touch()
    licences.write_licences(tmp_path / "licences", ["gmsh", "PySide6"], [library])
    folders = {path.name.split("-")[0]: path for path in (tmp_path / "licences").iterdir()}
    assert set(folders) == {"gmsh", "PySide6_Essentials", "Python", "system_libraries"}
    assert "GPL-3.0-only" in (folders["PySide6_Essentials"] / "ABOUT.txt").read_text(encoding="utf-8")
    assert "GPL" in (folders["gmsh"] / "LICENSE.txt").read_text(encoding="utf-8")
    assert "libhome_made.so\n" in (folders["system_libraries"] / "ABOUT.txt").read_text(encoding="utf-8")


def test_two_texts_of_one_name_are_both_kept(tmp_path: Path) -> None:
    place = tmp_path / "place"
    place.mkdir()
    for folder in ("a", "b"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "COPYING").write_text(folder, encoding="utf-8")
        licences._copy(tmp_path / folder / "COPYING", place)
    assert [path.read_text(encoding="utf-8") for path in sorted(place.iterdir())] == ["a", "b"]
