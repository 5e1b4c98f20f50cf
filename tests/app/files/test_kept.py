"""Recent files, settings, and whether a file was changed on the disk."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from pydantic import ValidationError

from app.files.data_folder import working_folder
from app.files.files_error import FilesError
from app.files.recent import MOST, RecentFiles
from app.files.settings import Settings, keep_settings, read_settings
from app.files.stamp import FileStamp, change_words, changed_on_disk
from geometry import file_replacing

SPOILT = [b"", b"{", b"\xff\xfe\x00", b"[]", b"3", b'{"files": 3}', b'{"files": [1, null, "", "a\\u0000b"]}',
          b"[" * 50_000, b'{"a": "' + b"x" * 200_000 + b'"}']  # fmt: skip


def test_a_working_folder_that_went_is_no_trouble(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    assert working_folder() == gone
    gone.rmdir()
    monkeypatch.setenv("HOME", str(tmp_path))
    assert working_folder() == tmp_path


def test_recent_files_come_last_used_first_each_once(tmp_path: Path) -> None:
    recent = RecentFiles(tmp_path)
    assert recent.listed() == ()
    paths = [tmp_path / f"{i}.bracket.json" for i in range(MOST + 3)]
    for path in paths:
        path.write_text("{}")
        recent.add(path)
    recent.add(paths[5])
    listed = [one.path for one in RecentFiles(tmp_path).listed()]
    assert listed[:2] == [paths[5], paths[-1]]
    assert len(listed) == len(set(listed)) == MOST
    recent.drop(paths[5])
    assert paths[5] not in [one.path for one in recent.listed()]


def test_vanished_files_are_marked(tmp_path: Path) -> None:
    recent = RecentFiles(tmp_path)
    path = tmp_path / "mine.bracket.json"
    path.write_text("{}")
    recent.add(path)
    assert recent.listed()[0].there
    path.unlink()
    assert not recent.listed()[0].there


@pytest.mark.parametrize("content", SPOILT)
def test_spoilt_files_are_as_good_as_none(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "recent.json").write_bytes(content)
    (tmp_path / "settings.json").write_bytes(content)
    assert RecentFiles(tmp_path).listed() == ()
    assert read_settings(tmp_path) == Settings()
    RecentFiles(tmp_path).add(tmp_path / "a.bracket.json")
    assert len(RecentFiles(tmp_path).listed()) == 1


def test_settings_are_kept_and_bounded(tmp_path: Path) -> None:
    chosen = Settings(scale_percent=150, look="slate", units="inch", language="de")
    keep_settings(chosen, tmp_path)
    assert read_settings(tmp_path) == chosen
    (tmp_path / "settings.json").write_text(
        '{"scale_percent": 900, "look": "slate", "units": 3, "language": "../../etc", "more": [1]}'
    )
    assert read_settings(tmp_path) == Settings(look="slate")
    with pytest.raises(ValidationError):
        chosen.but(scale_percent=300)
    assert chosen.but(scale_percent=200).scale_percent == 200


def test_settings_without_a_folder_are_the_defaults(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "file"))
    assert read_settings() == Settings()
    assert RecentFiles().listed() == ()
    with pytest.raises(FilesError, match="cannot be made"):
        keep_settings(Settings())
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "mine"))
    keep_settings(Settings(look="slate"))
    assert read_settings().look == "slate"


def test_a_full_disk_is_told_and_the_old_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keep_settings(Settings(look="slate"), tmp_path)
    RecentFiles(tmp_path).add(tmp_path / "a.bracket.json")

    def fail(*_args: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(file_replacing.os, "fsync", fail)
    with pytest.raises(FilesError, match=r"The settings cannot be kept in .* \(No space left on device\)"):
        keep_settings(Settings(), tmp_path)
    with pytest.raises(FilesError, match="The list of recent files cannot be kept"):
        RecentFiles(tmp_path).add(tmp_path / "b.bracket.json")
    assert read_settings(tmp_path).look == "slate"
    assert [one.path.name for one in RecentFiles(tmp_path).listed()] == ["a.bracket.json"]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["recent.json", "settings.json"]
    assert issubclass(FilesError, OSError)


def test_changes_on_the_disk_are_noticed(tmp_path: Path) -> None:
    path = tmp_path / "mine.bracket.json"
    path.write_text("one")
    stamp = FileStamp.of(path)
    assert changed_on_disk(path, stamp) == "same"
    assert change_words(path, "same") == ""
    os.utime(path, ns=(1, stamp.changed_at_ns + 5_000_000_000))
    assert changed_on_disk(path, stamp) == "same"  # touched only
    path.write_text("two")
    os.utime(path, ns=(1, stamp.changed_at_ns + 1))
    assert changed_on_disk(path, stamp) == "changed"
    assert "mine.bracket.json was changed on the disk" in change_words(path, "changed")
    os.utime(path, ns=(1, stamp.changed_at_ns))
    assert changed_on_disk(path, stamp) == "same"  # size and time alone do not show it
    assert changed_on_disk(path, stamp, thorough=True) == "changed"
    path.write_text("longer")
    assert changed_on_disk(path, stamp) == "changed"
    path.unlink()
    assert changed_on_disk(path, stamp) == "gone"
    assert "no longer on the disk" in change_words(path, "gone")
    with pytest.raises(FilesError, match="cannot be read"):
        FileStamp.of(path)
    path.mkdir()
    assert changed_on_disk(path, stamp) in ("gone", "changed")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="no mode keeps root out")
def test_a_folder_that_may_not_be_written_to(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(FilesError, match="Permission denied"):
            keep_settings(Settings(), tmp_path)
    finally:
        tmp_path.chmod(0o700)
