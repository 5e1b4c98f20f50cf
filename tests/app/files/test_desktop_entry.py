"""The desktop's files: written, read back as the desktop reads them, and removed."""

from __future__ import annotations

import configparser
import os
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from app.cli.main import main
from app.files import desktop_entry
from app.files.desktop_entry import KIND, associate, dissociate, own_command
from app.files.files_error import FilesError

ROOT = Path(__file__).parents[3]
pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="of Linux desktops only")


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "share"))
    return tmp_path / "share"


def entry(place: Path) -> configparser.SectionProxy:
    parser = configparser.ConfigParser(interpolation=None)
    parser.optionxform = str
    parser.read(place / "applications" / "holdsquare.desktop")
    return parser["Desktop Entry"]


def words_of(command: str) -> list[str]:
    """Return the words of an Exec line by the specification: string escapes first, then quotes."""
    text = command.replace("\\\\", "\\")
    words: list[str] = []
    word, quoted, i = "", False, 0
    while i < len(text):
        sign = text[i]
        if quoted and sign == "\\":
            i += 1
            word += text[i]
        elif sign == '"':
            quoted = not quoted
        elif sign == " " and not quoted:
            words.append(word)
            word = ""
        else:
            word += sign
        i += 1
    return [one.replace("%%", "%") for one in (*words, word)]


def test_the_entry_starts_the_program_with_the_file(place: Path) -> None:
    done = associate()
    assert all(path.is_file() for path in done.paths)
    assert len(done.paths) == 3
    told = entry(place)
    assert told["Type"] == "Application"
    assert told["MimeType"] == f"{KIND};"
    words = words_of(told["Exec"])
    assert words == [*own_command(), "%f"]
    answer = subprocess.run([*words[:-1], "--version"], capture_output=True, text=True, check=True, cwd="/")
    assert answer.stdout.startswith("holdsquare ")


def test_the_kind_of_file_is_told_by_its_name(place: Path) -> None:
    associate()
    root = ElementTree.parse(place / "mime" / "packages" / "holdsquare.xml").getroot()
    space = "{http://www.freedesktop.org/standards/shared-mime-info}"
    kind = root.find(f"{space}mime-type")
    assert kind is not None
    assert kind.get("type") == KIND
    glob = kind.find(f"{space}glob")
    assert glob is not None
    assert glob.get("pattern") == "*.bracket.json"
    assert int(glob.get("weight", "0")) > 50  # before that of *.json
    ElementTree.parse(place / "icons" / "hicolor" / "scalable" / "apps" / "holdsquare.svg")


def test_odd_folders_are_quoted(place: Path) -> None:
    odd = ('/opt/with space/100%/it\'s "$HOME"/`back`\\slash', "app")
    associate(odd)
    assert words_of(entry(place)["Exec"]) == [*odd, "%f"]
    with pytest.raises(FilesError, match="cannot stand in a menu entry"):
        associate(("/opt/line\nbreak",))


def test_removing_leaves_nothing_and_may_be_repeated(place: Path) -> None:
    associate()
    associate()
    assert len(dissociate().paths) == 3
    left = [
        path.name
        for path in place.rglob("*")
        if path.is_file() and "holdsquare" in path.read_text("utf-8", "replace")
    ]
    assert left == []
    assert dissociate().paths == ()


def test_a_relative_place_is_ignored(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", "share")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert associate().paths[0].is_relative_to(tmp_path / ".local" / "share")


def test_missing_tools_are_told(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(desktop_entry.shutil, "which", lambda _name: None)
    (words,) = associate().words
    assert "at the next log-in: update-mime-database and update-desktop-database could not be run" in words


def test_a_place_that_cannot_be_written_to_is_told(place: Path) -> None:
    place.write_text("in the way")
    with pytest.raises(FilesError, match="cannot be written"):
        associate()


def test_other_systems_are_told(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(desktop_entry.sys, "platform", "win32")
    with pytest.raises(FilesError, match="Only a Linux desktop"):
        associate()
    assert not place.exists()


def test_the_command(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["associate"]) == 0
    assert f"Written: {place / 'applications' / 'holdsquare.desktop'}" in capsys.readouterr().out
    assert main(["associate", "--remove"]) == 0
    assert main(["associate", "--remove"]) == 0
    assert "There was nothing to remove." in capsys.readouterr().out
    place.rename(place.with_name("away"))
    place.write_text("in the way")
    assert main(["associate"]) == 64
    assert "cannot be written" in capsys.readouterr().err
    assert os.environ["XDG_DATA_HOME"] == str(place)
