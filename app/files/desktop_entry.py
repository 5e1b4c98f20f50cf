"""Bracket files opened from a Linux desktop: menu entry, kind of file and icon, in the user's own folders.

After the Desktop Entry Specification 1.5, the Shared MIME-info Database 0.22 and the Icon Theme
Specification 0.13 of freedesktop.org.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from app.files.files_error import FilesError, reason_of
from app.files.for_other_programs import for_other_programs
from geometry.bracket_file import SUFFIX
from geometry.file_replacing import replace_file

KIND: Final = "application/x-holdsquare-bracket"
_ENTRY: Final = Path("applications/holdsquare.desktop")
_MIME: Final = Path("mime/packages/holdsquare.xml")
_ICON: Final = Path("icons/hicolor/scalable/apps/holdsquare.svg")
_REFRESHERS: Final = (("update-mime-database", "mime"), ("update-desktop-database", "applications"))
_TOOK_TOO_LONG_S: Final = 60.0

_MIME_TEXT: Final = f"""<?xml version="1.0" encoding="UTF-8"?>
<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">
  <mime-type type="{KIND}">
    <comment>Bracket</comment>
    <sub-class-of type="application/json"/>
    <icon name="holdsquare"/>
    <glob pattern="*{SUFFIX}" weight="60"/>
  </mime-type>
</mime-info>
"""
_ICON_TEXT: Final = """<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="64" height="64" viewBox="0 0 64 64">
  <rect x="2" y="2" width="60" height="60" rx="3" fill="#fbf8f0" stroke="#22262b" stroke-width="2"/>
  <path d="M14 52 V24 L22 14 H42 L50 24 V52 Z" fill="none" stroke="#22262b" stroke-width="3"
    stroke-linejoin="round"/>
  <circle cx="32" cy="36" r="8" fill="none" stroke="#22262b" stroke-width="3"/>
  <path d="M18 36 H46 M32 22 V50" stroke="#22262b" stroke-width="1" stroke-dasharray="6 2 1 2"/>
  <circle cx="21" cy="46" r="2.5" fill="#22262b"/>
  <circle cx="43" cy="46" r="2.5" fill="#22262b"/>
  <circle cx="32" cy="20" r="2.5" fill="#22262b"/>
</svg>
"""


@dataclass(frozen=True)
class Associated:
    """What was written or removed."""

    paths: tuple[Path, ...]
    words: tuple[str, ...]
    """What the user still has to know, a sentence each."""


def associate(command: Sequence[str] | None = None) -> Associated:
    """Let the desktop open bracket files with this program, or with that command.

    Raises FilesError where that cannot be written, and on systems that have no such files.
    """
    place = _place()
    texts = {_MIME: _MIME_TEXT, _ICON: _ICON_TEXT, _ENTRY: _entry_text(command or own_command())}
    for path, text in texts.items():
        try:
            (place / path).parent.mkdir(parents=True, exist_ok=True)
            replace_file(place / path, text.encode(), keep_previous=False)
        except (OSError, ValueError) as error:
            raise FilesError(
                f"{place / path} cannot be written ({reason_of(error)}): let it be written to, or name"
                " another in XDG_DATA_HOME."
            ) from error
    return Associated(tuple(place / path for path in texts), _refreshed(place))


def dissociate() -> Associated:
    """Undo what `associate` did; FilesError if a file of it cannot be removed."""
    place = _place()
    removed = []
    for path in (_ENTRY, _ICON, _MIME):
        try:
            (place / path).unlink()
            removed.append(place / path)
        except FileNotFoundError:
            continue
        except OSError as error:
            raise FilesError(
                f"{place / path} cannot be removed ({reason_of(error)}): do it by hand."
            ) from error
    return Associated(tuple(removed), _refreshed(place) if removed else ())


def own_command() -> tuple[str, ...]:
    """Return the command, with whole paths, that starts this program as it was started now."""
    started_as = Path(sys.argv[0] if sys.argv else "")
    if getattr(sys, "frozen", False):  # a bundle: the program is one file
        return (sys.executable,)
    if started_as.name.startswith("holdsquare") and started_as.is_file():
        return (str(started_as.absolute()),)
    return (sys.executable, str(Path(__file__).parents[1]))


def _place() -> Path:
    if not sys.platform.startswith("linux"):
        raise FilesError(
            "Only a Linux desktop is told so: elsewhere choose the program when you open a bracket."
        )
    named = Path(os.environ.get("XDG_DATA_HOME", ""))
    # a relative path there is to be ignored, says the specification
    return named if named.is_absolute() else Path.home() / ".local" / "share"


def _entry_text(command: Sequence[str]) -> str:
    return "\n".join(
        (
            "[Desktop Entry]",
            "Type=Application",
            "Version=1.5",
            "Name=Holdsquare",
            "Comment=Will this bracket hold the steering-assist unit square?",
            f"Exec={' '.join(_quoted(word) for word in command)} %f",
            "Icon=holdsquare",
            "Terminal=false",
            "Categories=Science;Engineering;",
            f"MimeType={KIND};",
            "StartupNotify=true",
            "",
        )
    )


def _quoted(word: str) -> str:
    """Return a word as it stands in Exec: quoted, then with the escapes of any string of such a file."""
    if any(ord(sign) < 32 for sign in word):
        raise FilesError(
            f"{word!r} cannot stand in a menu entry: move the program to a folder with a plain name."
        )
    inner = word.replace("%", "%%")
    for sign in ("\\", '"', "`", "$"):
        inner = inner.replace(sign, f"\\{sign}")
    return f'"{inner}"'.replace("\\", "\\\\")


def _refreshed(place: Path) -> tuple[str, ...]:
    """Have the desktop look again, and return what did not work."""
    missing = []
    for tool, folder in _REFRESHERS:
        found = shutil.which(tool)
        done = False
        if found is not None and (place / folder).is_dir():
            with contextlib.suppress(OSError, subprocess.TimeoutExpired):
                answer = subprocess.run(
                    [found, str(place / folder)],
                    capture_output=True,
                    check=False,
                    timeout=_TOOK_TOO_LONG_S,
                    env=for_other_programs(),
                )
                done = answer.returncode == 0
        if not done:
            missing.append(tool)
    if not missing:
        return ()
    return (
        f"The desktop may notice only at the next log-in: {' and '.join(missing)} could not be run here.",
    )
