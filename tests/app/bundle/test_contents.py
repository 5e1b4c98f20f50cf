"""What goes into a bundle and what stays out."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from app.bundle import contents
from app.bundle.contents import can_be_stripped, is_wanted, modules, read_me
from app.set_up import ROOT
from app.window import starts


def test_all_modules_but_those_of_the_source_folder_go_in() -> None:
    names = modules(ROOT)
    assert {"app", "app.window.start", "app.window.picture", "app.mounted.canvas", "solver.analyse"} <= set(
        names
    )
    assert not set(contents.NOT_IN_BUNDLE) & set(names)
    assert len(names) == len(set(names))
    assert not [name for name in [*names, *contents.NOT_IN_BUNDLE] if importlib.util.find_spec(name) is None]


def test_data_lies_where_the_program_looks_for_it() -> None:
    assert all((ROOT / name).exists() for name in (*contents.DATA, *contents.BESIDE))
    assert starts.SAMPLES.relative_to(ROOT).as_posix() in contents.DATA


def test_nothing_that_the_program_imports_is_excluded() -> None:
    source = "\n".join(
        path.read_text(encoding="utf-8")
        for package in contents.PACKAGES
        for path in (ROOT / package).rglob("*.py")
        if path.relative_to(ROOT).with_suffix("").as_posix().replace("/", ".") not in contents.NOT_IN_BUNDLE
    )
    imported = [n for n in contents.EXCLUDED if f"import {n}\n" in source or f"from {n}" in source]
    assert imported == []


@pytest.mark.parametrize(
    "place",
    [
        "PySide6/Qt/lib/libQt6Widgets.so.6",
        "PySide6/Qt/lib/libQt6XcbQpa.so.6",
        "PySide6/Qt/plugins/platforms/libqxcb.so",
        "PySide6/Qt/plugins/platforms/libqoffscreen.so",
        "PySide6/Qt/plugins/platforms/libqwayland.so",
        "PySide6\\plugins\\platforms\\qwindows.dll",
        "PySide6/Qt/plugins/platforminputcontexts/libibusplatforminputcontextplugin.so",
        "PySide6/Qt/plugins/imageformats/libqjpeg.so",
        "PySide6/Qt/translations/qtbase_de.qm",
        "libgmsh.so.4.15",
        "pint/default_en.txt",
        "matplotlib/mpl-data/matplotlibrc",
        "matplotlib/mpl-data/fonts/ttf/DejaVuSans.ttf",
        "pillow.libs/libharfbuzz-fb49c9fc.so.0.61450.0",
        "numpy.libs/libgfortran-040039e1.so.5.0.0",
    ],
)
def test_what_is_needed_stays(place: str) -> None:
    assert is_wanted(place)


@pytest.mark.parametrize(
    "place",
    [
        "PySide6/Qt/lib/libQt6Quick.so.6",
        "PySide6\\Qt6Qml.dll",
        "PySide6/Qt/plugins/platforminputcontexts/libqtvirtualkeyboardplugin.so",
        "PySide6/Qt/plugins/platforms/libqeglfs.so",
        "PySide6/Qt/plugins/platformthemes/libqgtk3.so",
        "PySide6/Qt/translations/qtmultimedia_de.qm",
        "matplotlib/mpl-data/sample_data/jacksboro_fault_dem.npz",
        "libpango-1.0.so.0",
        "libstdc++.so.6",
        "libgcc_s.so.1",
    ],
)
def test_what_is_not_needed_goes(place: str) -> None:
    assert not is_wanted(place)


def test_only_libraries_known_to_bear_it_are_stripped() -> None:
    assert can_be_stripped("vtkmodules/libvtkCommonCore.so")
    assert can_be_stripped("libpython3.11.so.1.0")
    assert not can_be_stripped("scipy.libs/libscipy_openblas-6cdc3b4a.so")
    assert not can_be_stripped("vtkmodules/util/numpy_support.py")


def test_the_words_beside_it_say_how_to_start_and_the_caution() -> None:
    words = read_me("0.1.0", "./holdsquare")
    assert "./holdsquare check FILE" in words
    assert "never drive on an unapproved installation" in words
    assert max(map(len, words.splitlines())) <= 110
    assert all(name in words for name in (contents.PROGRAM, *(Path(n).name for n in contents.BESIDE)))
