"""What goes into a bundle and what stays out.

What the program imports by name is found by reading it; here stands only what cannot be found so.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

PROGRAM: Final = "program"
"""Folder, beside the start file, of all that people need not look at."""
PACKAGES: Final = ("app", "geometry", "solver")
DATA: Final = ("sample_brackets",)
"""Folders of the source that the running program reads, at the same place below `PROGRAM`."""
BESIDE: Final = ("LICENSE", "sample_brackets")
"""What is laid beside the start file for people. The samples stand in both: one is opened and saved over."""

TRY_EVERYTHING: Final = "--try-everything"
"""What the start file is given to use all that it carries once (`trial.py`); people have no use for it."""

NOT_IN_BUNDLE: Final = ("app.__main__", "app.bundle.assemble", "app.installing", "app.ladder.far")
"""Modules of the program for the source folder alone, or that need one of its optional extras.

What is in a bundle must not depend on which extras the builder happens to have installed.
"""

EXCLUDED: Final = (
    # for the tests and for building
    "PyInstaller", "_pytest", "coverage", "grimp", "hypothesis", "importlinter", "mypy", "netgen", "ngsolve",
    "pip", "pytest", "pytestqt", "setuptools", "wheel",
    # of the extra for ladders on other machines, and what pandas and others take of it where it is
    "dask", "distributed", "fsspec", "importlib_metadata", "jinja2", "msgpack", "psutil", "tornado", "yaml",
    # other windows than Qt's, and what matplotlib, scipy and meshio would take if it happened to be there
    "IPython", "PyQt5", "PyQt6", "PySide2", "PySide6.QtNetwork", "PySide6.QtSvg", "gi", "h5py",
    "matplotlib.tests", "netCDF4", "tkinter", "wx",
)  # fmt: skip
"""Modules that are left out although something mentions them."""

_UNWANTED: Final = re.compile(
    # Qt's libraries and plugins for things that no window of this program has
    r"Qt6?(Qml|Quick|VirtualKeyboard|Pdf|Designer|Sql|Test|Help|UiTools|Network|EglF)"
    r"|/plugins/(tls|networkinformation|egldeviceintegrations|generic|sqldrivers|qmltooling|designer)/"
    r"|/plugins/platforms/[^/]*(eglfs|linuxfb|vnc|vkkhrdisplay|minimalegl|directfb)"
    r"|/plugins/platforminputcontexts/[^/]*virtualkeyboard"
    r"|/plugins/imageformats/[^/]*(pdf|webp|tiff|tga|icns|wbmp)"
    # the desktop's own theme would bring half a desktop with it
    r"|/plugins/platformthemes/[^/]*gtk3"
    r"|^lib(atk|cairo|datrie|epoxy|fribidi|g[dt]k|harfbuzz\.so|pango|pixman|thai|gssapi|k5crypto|krb5)"
    r"|PySide6/.*/translations/(?!qtbase_)"
    # pictures and data for trying the library out
    r"|matplotlib/mpl-data/(sample_data|images)/"
    # These have to be the system's own: its graphics driver is loaded into this process and needs them at
    # least as new as it was built with.
    r"|^(libstdc\+\+|libgcc_s)\.so"
)

_WITH_NOTES: Final = re.compile(r"^(vtkmodules/.*\.so|libpython[^/]*\.so[.\d]*)$")
"""Libraries that come with their makers' notes for looking for faults, and work the same without them."""


def modules(root: Path) -> list[str]:
    """Return the dotted names of the program's modules: some are imported by a name made at run time."""
    names = []
    for package in PACKAGES:
        for path in sorted((root / package).rglob("*.py")):
            parts = path.relative_to(root).with_suffix("").parts
            names.append(".".join(parts[:-1] if parts[-1] == "__init__" else parts))
    return [name for name in names if name not in NOT_IN_BUNDLE]


def is_wanted(place: str) -> bool:
    """Return whether a library or data file stays, by its place below `PROGRAM`."""
    return _UNWANTED.search(place.replace("\\", "/")) is None


def can_be_stripped(place: str) -> bool:
    """Return whether a library can be made smaller; others have been, or would break by it."""
    return _WITH_NOTES.match(place) is not None


def read_me(version: str, start_file: str) -> str:
    """Return the words laid beside the start file."""
    return f"""Holdsquare {version}

Will this bracket hold the steering-assist unit square?

    {start_file}                    opens the window
    {start_file} FILE               opens the window on a bracket file
    {start_file} check FILE         judges a bracket file and prints the verdict
    {start_file} --help             lists the other commands

Keep the folder together: the start file needs "{PROGRAM}" beside it. "sample_brackets" holds invented builds.

Steering is safety-critical. Results depend on the assumptions listed with them. Local codes and a licensed or
authorised certifier decide; never drive on an unapproved installation.

Holdsquare is free software under the GNU General Public License, version 3 or later (LICENSE); "licences" has
those of the libraries in this folder. Whoever hands this folder on hands on or offers the source too.
"""
