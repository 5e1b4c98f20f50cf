"""Files the user names: where one may be written, and how it is written whole or not at all."""

from __future__ import annotations

from pathlib import Path

from app.files.files_error import FilesError, reason_of
from geometry.file_replacing import replace_file


def why_not_there(out: Path) -> str:
    """Return why no file can be written to that path, in a sentence; empty if it seems one can."""
    if out.is_dir() or not out.parent.is_dir():
        return f"{out} cannot be written: name a file in a folder that is there."
    return ""


def why_no_picture(out: Path) -> str:
    """Return why a picture cannot be written to that path, in a sentence; empty if it seems it can."""
    if out.suffix.lower() != ".png":
        return f"A picture is a PNG file and {out} is not named as one: end its name in .png"
    return why_not_there(out)


def why_no_paper(out: Path) -> str:
    """Return why paper cannot be written to that path, in a sentence; empty if it seems it can."""
    if out.suffix.lower() != ".pdf":
        return f"Paper is a PDF file and {out} is not named as one: end its name in .pdf"
    return why_not_there(out)


def write_named(path: Path, content: bytes, refused: type[Exception] = FilesError) -> None:
    """Replace a file in one step; `refused`, in one sentence, if it cannot be: then nothing is changed."""
    try:
        replace_file(path, content, keep_previous=False)
    except (OSError, ValueError) as error:
        raise refused(
            f"{path} cannot be written ({reason_of(error)}): make room there, or name a file elsewhere."
        ) from error
