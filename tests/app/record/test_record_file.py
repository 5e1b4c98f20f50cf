"""Records come back as they were saved; whatever is wrong with a file is a sentence, and nothing is lost."""

from __future__ import annotations

import base64
import io
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from app.editing.refused import EditRefused
from app.record import record_file
from app.record.photographs import (
    photograph_of,
    picture_of,
    with_photograph,
    without_photograph,
)
from app.record.record import MOST_JPEG_BYTES, MOST_PHOTOGRAPHS, Photograph
from app.record.record_file import (
    RecordFileError,
    json_schema,
    read_record,
    record_of,
    save_record,
)
from app.record.record_name import record_named, record_path_of
from geometry.file_replacing import previous_of
from geometry.file_writing import part_text
from tests.app.record.examples import settled_record

SECRET = "taken at 51.5 north"


def camera_picture(path: Path, size: tuple[int, int] = (2400, 1200)) -> Path:
    """Write a picture as a camera does: with the place, and lying on its side."""
    shade = np.linspace(0, 255, size[0], dtype=np.uint8)
    image = Image.fromarray(np.repeat(shade[None, :, None], size[1], axis=0).repeat(3, axis=2))
    notes = Image.Exif()
    notes[0x010E] = SECRET
    notes[0x0112] = 6  # turn it a quarter to the right
    notes.get_ifd(0x8825)[2] = (51.0, 30.0, 0.0)
    image.save(path, "JPEG", exif=notes)
    return path


def jpeg(size: tuple[int, int], **given: Any) -> bytes:  # noqa: ANN401
    out = io.BytesIO()
    Image.new("RGB", size, (90, 120, 60)).save(out, "JPEG", **given)
    return out.getvalue()


def as_photograph(content: bytes, size: tuple[int, int] = (64, 48)) -> dict[str, Any]:
    coded = base64.b64encode(content).decode()
    return {"name": "p", "width_px": size[0], "height_px": size[1], "jpeg": coded}


def with_changes(**changes: object) -> bytes:
    return json.dumps(json.loads(part_text(settled_record())) | changes).encode()


def test_a_record_comes_back_as_it_was_saved(tmp_path: Path) -> None:
    path = tmp_path / "x.record.json"
    record = with_photograph(settled_record(), photograph_of(camera_picture(tmp_path / "a.jpg"), "top"))
    save_record(path, record)
    reading = read_record(path)
    assert reading.findings == ()
    assert reading.record == record
    first = path.read_bytes()
    save_record(path, record)
    assert path.read_bytes() == first
    save_record(path, record.but(remarks="later"))
    assert previous_of(path).read_bytes() == first


def test_a_photograph_leaves_the_place_behind_and_stands_upright(tmp_path: Path) -> None:
    source = camera_picture(tmp_path / "a.jpg")
    assert SECRET.encode() in source.read_bytes()
    made = photograph_of(source)
    kept = base64.b64decode(made.jpeg)
    assert SECRET.encode() not in kept
    assert b"Exif" not in kept
    with Image.open(io.BytesIO(kept)) as image:
        assert not image.getexif()
        assert image.size == (800, 1600) == (made.width_px, made.height_px)
    assert len(kept) <= MOST_JPEG_BYTES


def test_a_picture_full_of_grain_is_made_small_enough(tmp_path: Path) -> None:
    grain = np.random.default_rng(4).integers(0, 255, (1600, 1600, 3), dtype=np.uint8)
    Image.fromarray(grain).save(tmp_path / "grain.png")
    made = photograph_of(tmp_path / "grain.png")
    assert len(base64.b64decode(made.jpeg)) <= MOST_JPEG_BYTES


@pytest.mark.parametrize("content", [b"", b"not a picture", b"\xff\xd8\xff\xe0 broken", b"<svg/>"])
def test_what_is_no_photograph_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "a.jpg"
    path.write_bytes(content)
    with pytest.raises(EditRefused):
        photograph_of(path)


def test_photographs_are_bounded_named_apart_and_taken_out() -> None:
    record = settled_record()
    one = Photograph.model_validate(as_photograph(jpeg((64, 48))))
    for _ in range(MOST_PHOTOGRAPHS):
        record = with_photograph(record, one)
    assert len({p.name for p in record.photographs}) == MOST_PHOTOGRAPHS
    with pytest.raises(EditRefused, match="takes no more"):
        with_photograph(record, one)
    assert [p.name for p in without_photograph(record, "p").photographs][:1] == ["p 2"]


def test_a_strangers_photograph_loses_what_a_camera_wrote() -> None:
    notes = Image.Exif()
    notes[0x010E] = SECRET
    reading = record_of(with_changes(photographs=[as_photograph(jpeg((64, 48), exif=notes))]))
    assert reading.record is not None
    kept = base64.b64decode(reading.record.photographs[0].jpeg)
    assert SECRET.encode() not in kept
    assert "may tell the place" in reading.sentences[0]
    assert picture_of(reading.record.photographs[0]).shape == (48, 64, 3)


@pytest.mark.parametrize(
    ("photograph", "words"),
    [
        (as_photograph(b"GIF89a"), "no JPEG picture"),
        (as_photograph(b"\xff\xd8\xff\xd9"), "no JPEG picture"),
        ({**as_photograph(b"x" * 9), "jpeg": "not base64 !!"}, "not written as base64"),
        (as_photograph(jpeg((1700, 10)), (1600, 10)), "1600 are the most a side"),
    ],
)
def test_a_strangers_file_that_is_no_photograph_is_left_out_and_told(
    photograph: dict[str, Any], words: str
) -> None:
    reading = record_of(with_changes(photographs=[photograph, as_photograph(jpeg((64, 48)))]))
    assert reading.record is not None
    assert len(reading.record.photographs) == 1
    assert words in reading.sentences[0]
    assert reading.findings[0].bars_verdict


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "it is empty"),
        (b"[1]", "does not make a record"),
        (b"{}", 'a record file holds "format": "holdsquare record"'),
        (b'{"format": "holdsquare bracket", "version": 1}', "name a record file"),
        (b'{"format": "holdsquare record", "version": 9}', "later version"),
        (b'{"format": "holdsquare record", "version": 1}', "bracket_hash is missing"),
        (b'{"format": "holdsquare record", ', "breaks off"),
        (b"[" * 900, "nested"),
    ],
)
def test_what_is_no_record_is_told(content: bytes, words: str) -> None:
    reading = record_of(content)
    assert reading.record is None
    assert any(words in sentence for sentence in reading.sentences)


def test_unknown_keys_and_wrong_values_are_findings_and_the_rest_goes_on() -> None:
    lines = [
        {"group": "welds", "words": "sound", "state": "met", "colour": "red"},
        {"group": "welds", "words": "long", "state": "perhaps"},
        {"group": "paint", "words": "dry"},
    ]
    reading = record_of(with_changes(check_list=lines, decison="accept"))
    assert reading.record is not None
    # a state that cannot be read is open, never met; a line of no group goes
    assert [(i.words, i.state) for i in reading.record.check_list] == [("sound", "met"), ("long", "open")]
    said = " | ".join(reading.sentences)
    for piece in (
        "colour is not known",
        "decison is not known",
        "did you mean decision?",
        '"perhaps"',
        '"paint"',
    ):
        assert piece in said
    assert reading.record.decision == "undecided"


def test_a_file_beyond_the_bound_is_not_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "x.record.json"
    save_record(path, settled_record())
    monkeypatch.setattr(record_file, "MOST_BYTES", 200)
    assert "a record file has at most" in read_record(path).sentences[0]
    before = path.read_bytes()
    with pytest.raises(RecordFileError, match="take a photograph out"):
        save_record(path, settled_record().but(remarks="y"))
    assert path.read_bytes() == before


def test_a_record_is_never_saved_over_a_bracket(tmp_path: Path) -> None:
    path = tmp_path / "x.bracket.json"
    path.write_text("the builder's")
    with pytest.raises(RecordFileError, match="name of a bracket file"):
        save_record(path, settled_record())
    assert path.read_text() == "the builder's"
    assert record_path_of(path).name == "x.record.json"
    assert record_named(tmp_path / "mine.json").name == "mine.record.json"
    assert record_named(tmp_path / "mine.record.json").name == "mine.record.json"


def test_a_save_that_fails_says_why_and_leaves_what_stood(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(RecordFileError, match="nothing was changed"):
        save_record(tmp_path / "no" / "x.record.json", settled_record())
    path = tmp_path / "x.record.json"
    save_record(path, settled_record())
    before = path.read_bytes()

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("geometry.file_replacing.os.fsync", full)
    with pytest.raises(RecordFileError, match="No space left"):
        save_record(path, settled_record().but(remarks="later"))
    assert path.read_bytes() == before
    assert sorted(p.name for p in tmp_path.iterdir()) == ["x.record.json"]


def test_the_schema_names_what_is_required() -> None:
    schema = json_schema()
    assert schema["required"] == ["format", "version"]
    assert "check_list" in schema["properties"]


def test_the_sample_record_is_sound_and_belongs_to_its_bracket() -> None:
    from geometry.bracket_file import read_bracket

    samples = Path(__file__).parents[3] / "sample_brackets"
    reading = read_record(samples / "marlpit_one_piece.record.json")
    bracket = read_bracket(samples / "marlpit_one_piece.bracket.json").bracket
    assert reading.findings == ()
    assert reading.record is not None
    assert bracket is not None
    assert reading.record.bracket_hash == bracket.input_hash()
    assert [i.group for i in reading.record.check_list if i.state == "open"] == ["warning lamp"]
