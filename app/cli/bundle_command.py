"""The command that builds a bundle: a folder with the program for machines without Python."""

from __future__ import annotations

import importlib
import importlib.util
import sys
from pathlib import Path

from app.bundle.building import BundleError, build
from app.cli.page import complain, say
from app.cli.progress_line import live_progress
from app.exit_codes import BAD_USAGE
from app.set_up import ROOT, set_up
from app.set_up_error import SetUpError


def run_bundle(out: Path) -> int:
    """Build a bundle in a folder and return the exit code; what builds it is installed at the first time."""
    if getattr(sys, "frozen", False):
        complain("This is a bundle already: build another from the source folder, with python3 app bundle.")
        return BAD_USAGE
    if not (ROOT / "pyproject.toml").is_file():
        complain("A bundle is built from the source folder: get that, and run python3 app bundle in it.")
        return BAD_USAGE
    try:
        if importlib.util.find_spec("PyInstaller") is None:
            set_up(ROOT, ("bundle",))
            importlib.invalidate_caches()
        with live_progress("Building the bundle") as progress:
            if progress is None:
                complain("Building the bundle takes one to three minutes.")
            built = build(ROOT, out, progress)
    except (SetUpError, BundleError) as error:
        complain(str(error))
        return BAD_USAGE
    say(
        f"Built {built.folder}, {built.size_mb:.0f} MB: copy the whole folder; {built.start_file.name} in it"
        " opens the window."
    )
    return 0
