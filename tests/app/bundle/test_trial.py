"""The trial of a new bundle, here made of the source."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.bundle import trial
from app.bundle.contents import NOT_IN_BUNDLE, TRY_EVERYTHING, modules
from app.set_up import ROOT


def test_the_start_file_tries_everything() -> None:
    command = [sys.executable, "-m", "app.bundle_start", TRY_EVERYTHING]
    done = subprocess.run(command, cwd=ROOT, env=os.environ, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (0, ""), done.stderr


def test_every_module_of_a_bundle_is_imported() -> None:
    found = [name for name in trial._modules() if not name.endswith("__main__")]
    assert sorted(found) == sorted(name for name in modules(ROOT) if not name.endswith("__main__"))
    assert not set(found) & set(NOT_IN_BUNDLE)


def test_a_sample_that_was_left_out_is_noticed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(trial, "DATA", (str(tmp_path),))
    with pytest.raises(FileNotFoundError):
        trial._judge_a_sample()
