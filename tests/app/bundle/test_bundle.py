"""A bundle, built and started away from the source and from any Python."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path

import pytest

from app.set_up import ROOT

pytestmark = [
    pytest.mark.long,
    pytest.mark.skipif(not sys.platform.startswith("linux"), reason="looks at processes as Linux shows them"),
]
_SAMPLE = "sample_brackets/marlpit_two_straps.bracket.json"
_PATIENCE_S = 120.0


@pytest.fixture(scope="module")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build one, and take it to another place than it was built in."""
    out = tmp_path_factory.mktemp("built")
    command = [sys.executable, str(ROOT / "app"), "bundle", "-o", str(out)]
    done = subprocess.run(command, cwd=out, capture_output=True, text=True, timeout=900, check=False)
    assert done.returncode == 0, done.stderr
    place = tmp_path_factory.mktemp("work shop") / "holdsquare"
    shutil.move(out / "holdsquare", place)
    return place


@pytest.fixture
def bare(tmp_path: Path) -> Mapping[str, str]:
    """Return surroundings in which no program is found, and no display."""
    return {"HOME": str(tmp_path), "PATH": "/nonexistent", "LANG": "C.UTF-8", "QT_QPA_PLATFORM": "offscreen"}


def test_it_carries_what_it_reads_and_the_licences(bundle: Path) -> None:
    assert {path.name for path in bundle.iterdir()} == {
        "LICENSE",
        "READ_ME.txt",
        "holdsquare",
        "licences",
        "program",
        "sample_brackets",
    }
    assert (bundle / "program" / _SAMPLE).is_file()
    licences = [path.name for path in (bundle / "licences").iterdir()]
    assert {"gmsh", "clarabel", "PySide6_Essentials", "vtk", "Python"} <= {n.split("-")[0] for n in licences}
    text = " ".join(str(path.relative_to(bundle)) for path in bundle.rglob("*"))
    for unwanted in (
        "ngsolve",
        "netgen",
        "PyInstaller",
        "pytest",
        "Qt6Quick",
        "libgtk",
        "tkinter",
        "jinja2",
        "distributed",
    ):
        assert unwanted not in text
    size_mb = sum(path.stat().st_size for path in bundle.rglob("*") if not path.is_symlink()) / 1e6
    assert size_mb < 900


def test_it_judges_as_the_source_does(bundle: Path, bare: Mapping[str, str]) -> None:
    told = [
        json.loads(_run([*start, "check", _SAMPLE, "--json"], bundle, environment, code=1))
        for start, environment in (
            (["./holdsquare"], bare),
            ([sys.executable, str(ROOT / "app")], os.environ),
        )
    ]
    assert told[0]["verdict"] == told[1]["verdict"] == "fail"
    assert told[0]["reasons"] == told[1]["reasons"]
    assert _run(["./holdsquare", "schema"], bundle, bare).startswith("{")


def test_its_picture_is_one_of_the_window(bundle: Path, bare: Mapping[str, str], tmp_path: Path) -> None:
    out = tmp_path / "sheet.png"
    _run(["./holdsquare", "picture", _SAMPLE, "-o", str(out), "--size", "1280x720"], bundle, bare)
    assert out.read_bytes().startswith(b"\x89PNG")
    assert out.stat().st_size > 50_000


def test_its_libraries_are_all_there(bundle: Path, bare: Mapping[str, str], tmp_path: Path) -> None:
    mesh = tmp_path / "mesh.vtu"
    _run(["./holdsquare", "check", _SAMPLE, "--quick", "--mesh", str(mesh)], bundle, bare, code=2)
    assert [path.suffix for path in tmp_path.glob("mesh*")] == [".vtu", ".vtu"]


def test_its_window_has_a_worker_and_outlives_it(bundle: Path, bare: Mapping[str, str]) -> None:
    with subprocess.Popen(["./holdsquare", _SAMPLE], cwd=bundle, env=bare, stderr=subprocess.PIPE) as window:
        try:
            first = _worker_of(window.pid)
            loaded = _libraries_with(first, "libgmsh.so")
            for name in ("libgmsh.so", "libGLU.so", "libXft.so", "libfontconfig.so", "libgomp.so"):
                assert [path for path in loaded if name in path], name
                # the system this is tested on has them too, others have not
                assert not [path for path in loaded if name in path and str(bundle) not in path], name
            os.kill(first, signal.SIGKILL)
            second = _worker_of(window.pid, other_than=first)
            assert second != first
            assert window.poll() is None
        finally:
            window.kill()


def test_without_a_display_it_says_so(bundle: Path, bare: Mapping[str, str]) -> None:
    environment = {key: value for key, value in bare.items() if key != "QT_QPA_PLATFORM"}
    done = subprocess.run(
        ["./holdsquare"], cwd=bundle, env=environment, capture_output=True, text=True, check=False, timeout=60
    )
    assert done.returncode == 64
    assert "There is no display here" in done.stderr
    assert "holdsquare check FILE" in " ".join(done.stderr.split())


def _run(command: list[str], place: Path, environment: Mapping[str, str], code: int = 0) -> str:
    done = subprocess.run(
        command,
        cwd=place,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=_PATIENCE_S,
    )
    assert done.returncode == code, done.stdout + done.stderr
    return done.stdout


def _worker_of(window: int, other_than: int = 0) -> int:
    """Return the process of a window's worker once there is one that steps back, as only a worker does."""
    _, own = _parent_and_niceness(Path(f"/proc/{window}"))
    until = time.monotonic() + _PATIENCE_S
    while time.monotonic() < until:
        for folder in Path("/proc").glob("[0-9]*"):
            try:
                parent, nice = _parent_and_niceness(folder)
            except (OSError, ValueError, IndexError):
                continue
            if parent == window and nice > own and int(folder.name) != other_than:
                return int(folder.name)
        time.sleep(0.1)
    raise AssertionError("the window has no worker")


def _libraries_with(process: int, name: str) -> set[str]:
    """Return the paths of the libraries a process has loaded, once that one is among them."""
    until = time.monotonic() + _PATIENCE_S
    while time.monotonic() < until:
        lines = Path(f"/proc/{process}/maps").read_text().splitlines()
        paths = {line.split(maxsplit=5)[5] for line in lines if "/" in line}
        if any(name in path for path in paths):
            return paths
        time.sleep(0.1)
    raise AssertionError(f"the worker loads no {name}")


def _parent_and_niceness(folder: Path) -> tuple[int, int]:
    fields = (folder / "stat").read_text().rsplit(")", 1)[1].split()
    return int(fields[1]), int(fields[16])
