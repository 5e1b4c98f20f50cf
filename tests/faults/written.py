"""All that the program writes to a disk, each as something that can be written, killed, and read again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final
from unittest.mock import patch

from app.cutting.cut_file import cut_content, write_cut
from app.editing.outline_import import outline_in
from app.files.autosave import Autosave
from app.files.open_elsewhere import claim
from app.files.recent import RecentFiles
from app.ladder.kept_answers import KeptAnswers
from app.ladder.rung import Answer
from app.paper import paper_file
from app.record.record_autosave import RecordAutosave
from app.record.record_file import read_record, save_record
from app.register.database import Register
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket, save_bracket
from geometry.file_replacing import previous_of
from geometry.loads import StatedCouple
from geometry.plate import Plate
from tests.app.record.examples import settled_record
from tests.app.register.entries import entry
from tests.geometry.example_bracket import example_bracket

MARK: Final = "step "
_VERSIONS: Final = 60
"""Of the plate; more are never written in the few milliseconds before a kill."""
Found = Callable[[Path], int]


@dataclass(frozen=True)
class Written:
    """One thing that is written: version 0 stands there before, version n is written by step n."""

    name: str
    begin: Callable[[Path], None]
    """Write version 0, or nothing where nothing is version 0."""
    write: Callable[[Path, int], None]
    newest: Found
    """Return the version that stands there; AssertionError if any file of it is not whole."""


def bracket_of(number: int) -> Bracket:
    """Return a version of the bracket."""
    return example_bracket().but(title=f"{MARK}{number}")


def number_of(title: str) -> int:
    """Return the version that a title tells."""
    assert title.startswith(MARK), title
    return int(title.removeprefix(MARK))


def _sound_bracket(path: Path) -> int:
    reading = read_bracket(path)
    assert reading.findings == (), (path, reading.sentences)
    assert reading.bracket is not None
    number = number_of(reading.bracket.title)
    assert reading.bracket == bracket_of(number), path
    return number


def _bracket_newest(folder: Path) -> int:
    path = folder / "mine.bracket.json"
    number = _sound_bracket(path)
    previous = previous_of(path)
    assert not previous.exists() or _sound_bracket(previous) in (number, number - 1)
    return number


def _autosave_newest(folder: Path) -> int:
    found = Autosave(folder).recoverable()
    if not found:
        return 0
    assert len(found) == 1, found
    assert found[0].path_of_origin == folder / "mine.bracket.json"
    number = number_of(found[0].bracket.title)
    assert found[0].bracket == bracket_of(number)
    return number


def _record_newest(folder: Path) -> int:
    path = folder / "mine.record.json"
    reading = read_record(path)
    assert reading.findings == ()
    assert reading.record is not None
    number = number_of(reading.record.title)
    assert reading.record == settled_record().but(title=reading.record.title)
    return number


def _kept_record_newest(folder: Path) -> int:
    found = RecordAutosave(folder).recoverable()
    assert len(found) <= 1, found
    return number_of(found[0].record.title) if found else 0


def _register_newest(folder: Path) -> int:
    every = Register(folder / "register.sqlite3").every()
    assert [one.entry for one in every] == [entry(number) for number in range(len(every))]
    return len(every) - 1


def _answer(number: int) -> Answer:
    return Answer(verdict="pass", holds_to_nm=float(number), reason="x" * 2000)


def _asked(number: int) -> Bracket:
    """Return a bracket that no other version's answer is for."""
    loads = example_bracket().loads
    return example_bracket().but(loads=loads.but(couple=StatedCouple(couple_nm=10.0 + number)))


def _ladder_newest(folder: Path) -> int:
    kept, number = KeptAnswers(folder / "ladder"), 0
    while (answer := kept.find(_asked(number))) is not None:
        assert answer == _answer(number)
        number += 1
    files = list((folder / "ladder").glob("*.json"))
    assert len(files) == number, "an answer that cannot be read lies there"
    return number - 1


def _plate(number: int) -> Plate:
    """Return a plate with one corner moved by a tenth of a millimetre for every version."""
    plate = example_bracket().plates[0]
    first = plate.outline[0]
    at = (first.at_mm[0] - 0.1 * (number % _VERSIONS), first.at_mm[1])
    return plate.but(outline=(first.but(at_mm=at), *plate.outline[1:]))


def _cut_newest(folder: Path, ending: str) -> int:
    content = (folder / f"plate{ending}").read_bytes()
    # its bytes also tell when a DXF was made: what counts is the plate in it
    found = outline_in(content, f"plate{ending}").loops
    for number in range(_VERSIONS):
        if found == _outline_cut(number, ending):
            return number
    raise AssertionError("the cutter's file is none that was written")


@cache
def _outline_cut(number: int, ending: str) -> object:
    return outline_in(cut_content(_plate(number), ending), f"plate{ending}").loops


def _paper_bytes(number: int) -> bytes:
    return b"%PDF-1.4\n" + f"{MARK}{number}\n".encode() * 20_000 + b"%%EOF\n"


def _write_paper(folder: Path, number: int) -> None:
    # what paints touches no disk, and must not run in a forked child
    with patch.object(paper_file, "paper_bytes", lambda *_: _paper_bytes(number)):
        paper_file.write_paper(None, "drawing", folder / "drawing.pdf")  # type: ignore[arg-type]


def _paper_newest(folder: Path) -> int:
    content = (folder / "drawing.pdf").read_bytes()
    number = number_of(content.splitlines()[1].decode())
    assert content == _paper_bytes(number)
    return number


def _recent_newest(folder: Path) -> int:
    listed = RecentFiles(folder).listed()
    return int(listed[0].path.name) if listed else 0


def _claim_newest(folder: Path) -> int:
    """A lock never outlives its process: whatever was killed, the file can be claimed again."""
    one = claim(folder / "mine.bracket.json", folder)
    assert not one.read_only, one.words
    one.let_go()
    return -1


_WINDOWS: dict[Path, object] = {}
"""A window's keeper of work, by folder: it stays from step to step, as in a window."""


def _autosaved(folder: Path, number: int) -> None:
    window = _WINDOWS.setdefault(folder, Autosave(folder))
    assert isinstance(window, Autosave)
    window.save(bracket_of(number), folder / "mine.bracket.json")


def _record_kept(folder: Path, number: int) -> None:
    window = _WINDOWS.setdefault(folder / "records", RecordAutosave(folder))
    assert isinstance(window, RecordAutosave)
    window.save(settled_record().but(title=f"{MARK}{number}"), folder / "mine.bracket.json", None)


def _saved(folder: Path, number: int) -> None:
    save_bracket(folder / "mine.bracket.json", bracket_of(number))


def _record_saved(folder: Path, number: int) -> None:
    save_record(folder / "mine.record.json", settled_record().but(title=f"{MARK}{number}"))


def _registered(folder: Path, number: int) -> None:
    Register(folder / "register.sqlite3").add([entry(number)])


def _ladder_kept(folder: Path, number: int) -> None:
    KeptAnswers(folder / "ladder").keep(_asked(number), _answer(number))


def _nothing(_folder: Path) -> None:
    """Version 0 is that nothing is there."""


def all_written() -> tuple[Written, ...]:
    """Return everything that is written, saves first."""

    def cut(ending: str) -> Written:
        return Written(
            f"cutter's file, {ending[1:].upper()}",
            lambda folder: write_cut(_plate(0), folder / f"plate{ending}"),
            lambda folder, number: write_cut(_plate(number), folder / f"plate{ending}"),
            lambda folder: _cut_newest(folder, ending),
        )

    def begun(write: Callable[[Path, int], None]) -> Callable[[Path], None]:
        return lambda folder: write(folder, 0)

    return (
        Written("save of a bracket", begun(_saved), _saved, _bracket_newest),
        Written("autosave of a bracket", _nothing, _autosaved, _autosave_newest),
        Written("save of a record", begun(_record_saved), _record_saved, _record_newest),
        Written("autosave of a record", _nothing, _record_kept, _kept_record_newest),
        Written("entry of the register", begun(_registered), _registered, _register_newest),
        Written("answers a ladder keeps", begun(_ladder_kept), _ladder_kept, _ladder_newest),
        cut(".dxf"),
        cut(".svg"),
        Written("paper", begun(_write_paper), _write_paper, _paper_newest),
        Written(
            "list of recent files",
            _nothing,
            lambda folder, number: RecentFiles(folder).add(folder / str(number)),
            _recent_newest,
        ),
        Written(
            "claim on an open file",
            _nothing,
            lambda folder, _number: claim(folder / "mine.bracket.json", folder).let_go(),
            _claim_newest,
        ),
    )
