"""What is said when the program itself breaks off: whose fault it is, and what to do."""

from __future__ import annotations

import re
from typing import Final

from app.system_libraries import how_to_get, missing_packages

TRACE: Final = "HOLDSQUARE_TRACE=1 shows where."
_LIBRARY: Final = re.compile(r"(\S+\.so[.\d]*): cannot open shared object file")
"""How the loader of a Linux system says that a library is not there."""
_LONGEST: Final = 300


def fault_words(fault: BaseException, subject: str = "The program", trace: str = "") -> str:
    """Return what to tell of a fault, as sentences; `trace` says where to look, of the program's own alone.

    A library of the system's that is not there is the machine's lack: what to install is told.
    """
    lacks = _LIBRARY.search(str(fault)) if isinstance(fault, OSError | ImportError) else None
    if lacks is None:
        words = (
            f"{subject} went wrong ({type(fault).__name__}: {short(fault)}). That is a fault of the program,"
        )
        return f"{words} not of the bracket; there is no verdict.{f' {trace}' if trace else ''}"
    missing = missing_packages()
    how = how_to_get(missing) if missing else "Install it with your system's package manager."
    return f"{subject} needs {lacks.group(1)}, which this system lacks; there is no verdict. {how}"


def short(error: BaseException) -> str:
    """Return what an error says on one line, at most so long, without a full stop."""
    text = " ".join(str(error).split())
    return (text[:_LONGEST] + "...") if len(text) > _LONGEST else text.rstrip(".")
