"""What the cases start from: sample brackets, fixtures of the tests, and files made of them."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path
from typing import Final

from PIL import Image

from app.cutting.cut_file import cut_content
from app.record.photographs import photograph_of
from app.record.profile import OwnLine, Profile
from app.record.record import Record
from app.record.record_file import read_record
from app.register.csv_list import csv_text
from app.register.entry import Numbered, entry_as_written
from geometry.bracket_file import read_bracket
from geometry.file_writing import part_text
from geometry.loads import Limits
from geometry.plate import Plate
from tests.fuzz import containers_made

ROOT: Final = Path(__file__).resolve().parents[2]
SAMPLES: Final = ROOT / "sample_brackets"
_OLD: Final = ROOT / "tests" / "old_files" / "version_1.bracket.json"
_MOST_LINES: Final = 260
_PICTURES: Final = (
    ("PNG", "RGB"), ("PNG", "P"), ("PNG", "RGBA"), ("JPEG", "RGB"), ("TIFF", "RGB"), ("BMP", "RGB"),
    ("WEBP", "RGB"),
)  # fmt: skip


@cache
def brackets() -> tuple[bytes, ...]:
    """Return the sample brackets and the fullest file there is."""
    return tuple(path.read_bytes() for path in [_OLD, *sorted(SAMPLES.glob("*.bracket.json"))])


@cache
def records() -> tuple[bytes, ...]:
    """Return the sample record, and the same with a photograph."""
    sample = SAMPLES / "marlpit_one_piece.record.json"
    one = read_record(sample).record
    assert one is not None
    photograph = photograph_of(SAMPLES / "marlpit_two_straps_moves.png")
    small = Record(bracket_hash="a", program="1", photographs=(photograph,))
    return (sample.read_bytes(), part_text(small).encode())


@cache
def limits() -> tuple[bytes, ...]:
    """Return limits and a profile, every figure written out."""
    profile = Profile(name="own", check_list=(OwnLine(group="bolts", words="look"),), cautions=("one", "two"))
    return (
        Limits().model_dump_json(exclude_none=True).encode(),
        profile.model_dump_json(exclude_none=True).encode(),
    )


@cache
def drawings(ending: str) -> tuple[bytes, ...]:
    """Return the sample plates as a cutter gets them."""
    found = [cut_content(plate, ending) for plate in _plates()]
    return (*found, cut_content(_plates()[0], ending, older=True)) if ending == ".dxf" else tuple(found)


def _plates() -> list[Plate]:
    names = ("marlpit_one_piece", "ostler_cut_out_radiused", "quayside_side_plate", "sluice_welded")
    readings = [read_bracket(SAMPLES / f"{name}.bracket.json").bracket for name in names]
    return [bracket.plates[0] for bracket in readings if bracket is not None]


@cache
def logs() -> tuple[bytes, ...]:
    """Return the beginnings of the sample logs: short ones run through fast."""
    found = []
    for path in sorted(SAMPLES.glob("*_log.csv")):
        lines = path.read_bytes().splitlines(keepends=True)
        step = max(1, len(lines) // _MOST_LINES)
        found += [b"".join(lines[:_MOST_LINES]), b"".join(lines[:3] + lines[3::step])]
    return tuple(found)


@cache
def lists() -> tuple[bytes, ...]:
    """Return a register's list of two entries."""
    one = read_record(SAMPLES / "marlpit_one_piece.record.json").record
    assert one is not None
    entry = entry_as_written(one, Path("/cars/one.record.json"))
    from tests.fuzz.tried import TODAY

    entries = [Numbered(number=k, added="2031-04-30 10:00:00", entry=entry) for k in (1, 2)]
    return (csv_text(entries, TODAY).encode(),)


@cache
def reports() -> tuple[bytes, ...]:
    """Return a report that carries a bracket and a record."""
    return (containers_made.pdf_seed(brackets()[1], records()[0]),)


@cache
def registers() -> tuple[bytes, ...]:
    """Return a register of three entries."""
    return (containers_made.register_seed(),)


@cache
def pictures() -> tuple[bytes, ...]:
    """Return a small picture of each kind that is read."""
    with Image.open(SAMPLES / "marlpit_one_piece.png") as whole:
        small = whole.convert("RGB").resize((48, 30))
    found = []
    for kind, mode in _PICTURES:
        stream = io.BytesIO()
        small.convert(mode).save(stream, kind)
        found.append(stream.getvalue())
    return tuple(found)
