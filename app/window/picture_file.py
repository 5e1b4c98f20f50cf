"""A picture that Qt has painted, as a PNG file."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QBuffer, QIODevice
from PySide6.QtGui import QPixmap

from app.files.files_error import FilesError
from app.files.named_file import write_named


def picture_written(picture: QPixmap, out: Path) -> str:
    """Write a picture as PNG in one step; return what went wrong in a sentence, or nothing."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    picture.save(buffer, "PNG")
    try:
        write_named(out, bytes(buffer.data().data()))
    except FilesError as error:
        return str(error)
    return ""
