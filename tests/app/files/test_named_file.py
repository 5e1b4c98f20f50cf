"""Files the user names: where one may be written, and what is left where it cannot be."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from app.files.files_error import FilesError
from app.files.named_file import why_no_paper, why_no_picture, why_not_there, write_named


class RefusedError(ValueError):
    pass


@pytest.mark.parametrize(
    ("why", "name", "said"),
    [
        (why_not_there, "x.csv", ""),
        (why_not_there, "gone/x.csv", "name a file in a folder that is there"),
        (why_not_there, "folder", "name a file in a folder that is there"),
        (why_no_picture, "x.PNG", ""),
        (why_no_picture, "x.gif", "end its name in .png"),
        (why_no_picture, "gone/x.png", "name a file in a folder that is there"),
        (why_no_paper, "x.pdf", ""),
        (why_no_paper, "x.png", "end its name in .pdf"),
    ],
)
def test_why_a_file_cannot_be_written_there(
    why: Callable[[Path], str], name: str, said: str, tmp_path: Path
) -> None:
    (tmp_path / "folder").mkdir()
    assert said in why(tmp_path / name)
    assert bool(said) is bool(why(tmp_path / name))


@pytest.mark.parametrize("refused", [FilesError, RefusedError])
def test_what_stood_there_stays_where_the_disk_refuses(
    refused: type[Exception], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "x.csv"
    write_named(path, b"before", refused)

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("geometry.file_replacing.os.replace", full)
    with pytest.raises(refused, match=r"x\.csv cannot be written \(No space left on device\)"):
        write_named(path, b"after", refused)
    assert path.read_bytes() == b"before"
