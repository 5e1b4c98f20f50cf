"""Where a picture may be written."""

from __future__ import annotations

from pathlib import Path


def why_no_picture(out: Path) -> str:
    """Return why a picture cannot be written to that path, in a sentence; empty if it can."""
    if out.suffix.lower() != ".png":
        return f"A picture is a PNG file and {out} is not named as one: end its name in .png"
    if out.is_dir() or not out.parent.is_dir():
        return f"The picture cannot be written to {out}: name a file in a folder that is there."
    return ""
