"""What a wheel carries is enough: the program run from a copy of just that, in another folder."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from app.set_up import ROOT


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder that holds what pyproject.toml puts in a wheel, and no pyproject.toml."""
    tools = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]
    folder = tmp_path_factory.mktemp("site")
    for package in tools["hatch"]["build"]["targets"]["wheel"]["packages"]:
        shutil.copytree(ROOT / package, folder / package, ignore=shutil.ignore_patterns("__pycache__"))
    return folder


def _run(site: Path, elsewhere: Path, program: str) -> subprocess.CompletedProcess[str]:
    begin = f"import sys; sys.path.insert(0, {str(site)!r})\n"
    command = [sys.executable, "-c", begin + program]
    return subprocess.run(command, cwd=elsewhere, capture_output=True, text=True, check=False)


def test_samples_come_along(site: Path, tmp_path: Path) -> None:
    """The window shows one at its first start, and offers the others."""
    look = (
        "from app.window.starts import FIRST_SAMPLE, SAMPLES\n"
        "print(SAMPLES, (SAMPLES / f'{FIRST_SAMPLE}.bracket.json').is_file())"
    )
    assert _run(site, tmp_path, look).stdout.split() == [str(site / "sample_brackets"), "True"]


def test_a_sample_is_judged_from_another_folder(site: Path, tmp_path: Path) -> None:
    sample = site / "sample_brackets" / "marlpit_two_straps.bracket.json"
    run = f"from app.cli.main import main; sys.exit(main(['check', '--quick', {str(sample)!r}]))"
    done = _run(site, tmp_path, run)
    assert done.returncode == 2, done.stderr
    assert "Marlpit roadster, two straps" in done.stdout
    assert list(tmp_path.iterdir()) == []
    where = _run(site, tmp_path, "import app, geometry, solver; print(app.__file__)").stdout
    assert where.strip() == str(site / "app" / "__init__.py")


def test_the_command_stopped_while_it_reads_its_files_says_a_sentence(site: Path, tmp_path: Path) -> None:
    """The key is pressed as the first of the program's own files is read."""
    start = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["scripts"]
    module, _, name = start["holdsquare"].partition(":")
    press = (
        "class Pressed:\n"
        "    def find_spec(self, name, *_):\n"
        "        if name == 'app.cli': raise KeyboardInterrupt\n"
        "sys.meta_path.insert(0, Pressed())\n"
        f"from {module} import {name} as start; start()"
    )
    done = _run(site, tmp_path, press)
    assert (done.returncode, done.stderr) == (130, "Stopped; there is no verdict.\n")
    run = f"from {module} import {name} as start; sys.argv[1:] = ['--version']; start()"
    assert _run(site, tmp_path, run).returncode == 0
