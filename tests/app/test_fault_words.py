"""Whose fault it is that the program broke off."""

from __future__ import annotations

import subprocess
import sys

import pytest

from app.set_up import ROOT
from app.wording import fault_words as module
from app.wording.fault_words import TRACE, fault_words, short

NO_LIBRARY = OSError("libGLU.so.1: cannot open shared object file: No such file or directory")


def test_a_fault_of_the_program_is_owned() -> None:
    assert fault_words(IndexError("7\n  of 3."), "The analysis", TRACE) == (
        "The analysis went wrong (IndexError: 7 of 3). That is a fault of the program, not of the bracket; "
        "there is no verdict. HOLDSQUARE_TRACE=1 shows where."
    )


def test_a_missing_library_is_the_systems(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "missing_packages", lambda: ["libglu1-mesa"])
    monkeypatch.setattr(module, "how_to_get", lambda missing: f"Get {', '.join(missing)}.")
    said = "The program needs libGLU.so.1, which this system lacks; there is no verdict. Get libglu1-mesa."
    assert fault_words(NO_LIBRARY, trace=TRACE) == said
    assert fault_words(ImportError(str(NO_LIBRARY))) == said
    monkeypatch.setattr(module, "missing_packages", list)
    assert fault_words(NO_LIBRARY).endswith("Install it with your system's package manager.")


def test_other_errors_that_name_a_library_are_the_programs() -> None:
    assert "fault of the program" in fault_words(ValueError(str(NO_LIBRARY)))
    assert "fault of the program" in fault_words(OSError(28, "No space left on device"))


def test_the_loader_of_this_system_says_so() -> None:
    """The words looked for are those of the C library's loader, asked here for a library that is nowhere."""
    if not sys.platform.startswith("linux"):
        pytest.skip("the loader's words are those of Linux")
    look = (
        "import ctypes\n"
        "from app.wording.fault_words import fault_words\n"
        "try: ctypes.CDLL('libnowhere.so.1')\n"
        "except OSError as fault: print(fault_words(fault))"
    )
    answer = subprocess.run(
        [sys.executable, "-c", look], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert answer.stdout.startswith("The program needs libnowhere.so.1, which this system lacks;")


def test_long_words_are_cut() -> None:
    assert short(ValueError("x" * 400)) == "x" * 300 + "..."
