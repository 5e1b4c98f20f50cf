"""`python3 app [FILE]` and `picture`: hand over to the window, which alone knows Qt."""

from __future__ import annotations

import importlib
import math
import re
from pathlib import Path
from types import ModuleType
from typing import Final, Literal

from app.cli.page import complain
from app.cli.progress_line import live_progress
from app.exit_codes import BAD_USAGE
from app.files.named_file import why_no_picture
from app.files.near_names import missing_file_sentence
from app.theme import LEAST_WINDOW_PX, ThemeName
from app.wording.figures import Units

PageName = Literal["bracket", "side by side", "lesson", "record"]
ViewName = Literal["flat", "mounted"]
_MOST_PX: Final = 8000
"""Of either side of a picture."""


def open_window(file: Path | None) -> int:
    """Show the window, on a file if one is given, and return the exit code when it is closed."""
    if file is not None and (trouble := missing_file_sentence(file)):
        complain(trouble)
        return BAD_USAGE
    return int(_window("start").show_window(file, complain))


def take_picture(
    file: Path,
    out: Path,
    *,
    sheet: PageName,
    size: str,
    theme: ThemeName,
    view: ViewName,
    scale: int,
    units: Units,
) -> int:
    """Draw a sheet of the window into a PNG file without any display; return the exit code."""
    if trouble := missing_file_sentence(file) or why_no_picture(out):
        complain(trouble)
        return BAD_USAGE
    pixels, least = _pixels(size), tuple(math.ceil(side * scale / 100) for side in LEAST_WINDOW_PX)
    if pixels is None or any(side < low or side > _MOST_PX for side, low in zip(pixels, least, strict=True)):
        enlarged = f" with --scale {scale}" if scale > 100 else ""
        complain(
            f"The size {size} is not one a picture can have: write it as 1280x720, at least"
            f" {least[0]}x{least[1]}{enlarged} and at most {_MOST_PX}x{_MOST_PX}."
        )
        return BAD_USAGE
    with live_progress(file.name) as progress:
        trouble = _window("picture").take_picture(
            file,
            out,
            sheet=sheet,
            pixels=pixels,
            theme=theme,
            view=view,
            scale=scale,
            units=units,
            progress=progress,
        )
    if trouble:
        complain(trouble)
        return BAD_USAGE
    return 0


def _window(part: str) -> ModuleType:
    """Return a part of the window, imported only now: the other commands need no Qt."""
    return importlib.import_module(f"app.window.{part}")


def _pixels(size: str) -> tuple[int, int] | None:
    found = re.fullmatch(r"(\d{1,5})[x\u00d7](\d{1,5})", size.strip())
    return None if found is None else (int(found[1]), int(found[2]))
