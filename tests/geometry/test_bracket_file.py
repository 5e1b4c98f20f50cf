"""Reading: a bad file gives a sentence, never a traceback. Saving: never half a file, never a lost one."""

from __future__ import annotations

import json
import os
import socket
from pathlib import Path
from typing import Any

import pytest

from geometry import bracket_file, file_replacing
from geometry.bracket import Bracket
from geometry.bracket_file import (
    BracketFileError,
    Reading,
    bracket_of,
    json_schema,
    read_bracket,
    save_bracket,
)
from geometry.file_replacing import previous_of
from geometry.file_text import DEEPEST, MOST_BYTES
from geometry.finding_words import MOST_FINDINGS
from tests.geometry.example_bracket import changed, example_bracket, example_bytes, example_data

OLD_FILES = Path(__file__).parents[1] / "old_files"


def codes(reading: Reading) -> list[str]:
    return [finding.code for finding in reading.findings]


def only_sentence(reading: Reading, code: str) -> str:
    assert codes(reading) == [code]
    return reading.sentences[0]


def read_content(folder: Path, content: bytes) -> Reading:
    path = folder / "bad.bracket.json"
    path.write_bytes(content)
    reading = read_bracket(path)
    assert path.read_bytes() == content  # reading overwrites nothing
    assert sorted(folder.iterdir()) == [path]
    return reading


def test_a_sound_file_gives_its_bracket_and_no_finding(tmp_path: Path) -> None:
    reading = read_content(tmp_path, example_bytes())
    assert reading == Reading(example_bracket(), ())


@pytest.mark.parametrize(
    ("content", "code", "said"),
    [
        (b"", "file-empty", "is empty; the previous version"),
        (b" \n\t ", "file-empty", "is empty"),
        (example_bytes()[:700], "file-truncated", "breaks off at line 1, column"),
        (b'{"format": "holdsquare bracket", "version"', "file-truncated", "breaks off at line 1, column 43"),
        (b'{"format": "holdsquare', "file-truncated", "breaks off at line 1, column 12"),
        (b'{\n "format": holdsquare\n}', "file-not-json", "line 2, column 12 cannot be understood"),
        (b'{"a": 1} {"b": 2}', "file-not-json", "mend that place"),
        (b"<!DOCTYPE html>\n<title>Report</title>", "file-marked-up", "a report as HTML carries no bracket"),
        (b"\x7fELF\x02\x01\x01\x00\x00\x00\x00\x00", "file-binary", "is not text"),
        (b"\x89PNG\r\n\x1a\n\xff\xd8", "file-not-utf8", "line 1 is not UTF-8 text (found 0x89)"),
        (b'{\n"title": "\xe4"}', "file-not-utf8", "line 2 is not UTF-8 text (found 0xe4)"),
        ('{"title": "x"}'.encode("utf-16"), "file-not-utf8", "UTF-16"),
        (b"[" * 100_000, "file-too-deep", f"more than {DEEPEST} levels"),
        (b'{"a":' * 500_000, "file-too-deep", "at line 1"),
        (b"[1, 2]", "file-not-a-bracket", "start from a sample bracket"),
        (b'"bracket"', "file-not-a-bracket", "does not make a bracket"),
        (b"{}", "format-missing", '"format": "holdsquare bracket"'),
        (b'{"format": "a drawing", "version": 1}', "format-unknown", "its format is 'a drawing'"),
        (b'{"format": ["holdsquare bracket"], "version": 1}', "format-unknown", "name a bracket file"),
        (b'{"format": "holdsquare bracket"}', "version-missing", "this program writes version 1"),
        (b'{"format": "holdsquare bracket", "version": 2}', "version-newer", "made by a later version"),
        (b'{"format": "holdsquare bracket", "version": 0}', "version-unknown", "version 0 was never used"),
        (b'{"format": "holdsquare bracket", "version": "1"}', "version-unknown", "was never used"),
        (b'{"format": "holdsquare bracket", "version": true}', "version-unknown", "version True"),
    ],
)
def test_a_file_that_makes_no_bracket_says_why(tmp_path: Path, content: bytes, code: str, said: str) -> None:
    reading = read_content(tmp_path, content)
    assert reading.bracket is None
    words = only_sentence(reading, code)
    assert said in words
    assert words.startswith("file bad.bracket.json: ")
    assert reading.findings[0].severity == "stop"


def test_brackets_within_text_are_not_nesting() -> None:
    deep_text = "[{" * 200 + '\\"' + "[[" * 100
    reading = bracket_of(example_bytes(changed("note", to=deep_text)))
    assert reading.findings == ()
    assert reading.bracket is not None
    assert reading.bracket.note == deep_text


def test_escaped_quotes_do_not_make_the_depth_scan_slow() -> None:
    # An unfinished text of two million escaped quotes: a scan that tried each as a beginning would take
    # hours.
    assert codes(bracket_of(b'{"a": "' + b'\\"' * 2_000_000)) == ["file-truncated"]


def test_a_byte_order_mark_is_read_over() -> None:
    assert bracket_of(b"\xef\xbb\xbf" + example_bytes()).bracket == example_bracket()


def test_a_file_of_200_mb_is_refused_without_being_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "huge.bracket.json"
    with path.open("wb") as stream:
        stream.truncate(200_000_000)
    monkeypatch.setattr(Path, "open", lambda *_args, **_more: pytest.fail("the file was opened"))
    words = only_sentence(read_bracket(path), "file-too-big")
    assert "200.0 MB" in words
    assert f"at most {MOST_BYTES / 1e6:g} MB" in words


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    path = tmp_path / "nothing.bracket.json"
    assert str(path) in only_sentence(read_bracket(path), "file-missing")
    assert "check the name" in read_bracket(path / "below").sentences[0]


def test_a_folder_is_named(tmp_path: Path) -> None:
    assert "is a folder; name a file in it" in only_sentence(read_bracket(tmp_path), "file-is-folder")


def test_a_pipe_or_socket_is_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    assert "a device or a pipe" in only_sentence(read_bracket(pipe), "file-not-regular")
    with socket.socket(socket.AF_UNIX) as listener:
        listener.bind(str(tmp_path / "socket"))
        assert codes(read_bracket(tmp_path / "socket")) == ["file-not-regular"]
    assert only_sentence(read_bracket(Path("/dev/zero")), "file-not-regular").startswith(
        "file /dev/zero: it is"
    )


def test_an_unreadable_file_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "locked.bracket.json"
    path.write_bytes(example_bytes())

    def refuse(*_args: object, **_more: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)  # the tests may run as root, whom no mode keeps out
    words = only_sentence(read_bracket(path), "file-unreadable")
    assert "Permission denied" in words
    assert "check who may read it" in words


@pytest.mark.parametrize("name", ["a\x00b", "x" * 5000])
def test_an_impossible_path_says_so(name: str) -> None:
    reading = read_bracket(name)
    assert reading.bracket is None
    assert codes(reading)[0] in ("file-unreadable", "file-missing")
    assert len(reading.sentences[0]) < 600


def test_links_in_a_circle_say_so(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    assert codes(read_bracket(tmp_path / "a")) == ["file-unreadable"]
    with pytest.raises(BracketFileError, match="cannot be saved"):
        save_bracket(tmp_path / "a", example_bracket())


BAD_VALUES = [
    (("plates", 0, "thickness_mm"), -3, "number-out-of-range", "plate main, thickness_mm: it is -3 and has"),
    (("plates", 0, "thickness_mm"), 0, "number-out-of-range", "above 0"),
    (("plates", 0, "thickness_mm"), float("nan"), "number-not-finite", "plate main, thickness_mm: it is nan"),
    (("plates", 0, "thickness_mm"), float("inf"), "number-not-finite", "it is inf"),
    (("plates", 0, "thickness_mm"), 1e308, "number-absurd", "it is 1e+308; no figure"),
    (("plates", 0, "thickness_mm"), 10**40, "number-absurd", "it is 1e+40"),
    (("plates", 0, "thickness_mm"), "6", "wrong-type", 'it is "6" where a number belongs'),
    (("plates", 0, "thickness_mm"), True, "wrong-type", "it is true where a number belongs"),
    (("plates", 0, "thickness_mm"), None, "wrong-type", "it is null"),
    (("plates", 0, "outline", 1, "at_mm"), [1], "wrong-length", "corner number 2, at_mm: [1] has"),
    (("plates", 0, "outline", 1, "at_mm"), [1, 2, 3], "wrong-length", "at most 2 entries"),
    (("plates", 0, "outline", 1, "at_mm", 0), float("nan"), "number-not-finite", "outline corner number 2"),
    (("plates", 0, "openings", 0, "diameter_mm"), -9, "number-out-of-range", "opening left, diameter_mm"),
    (("plates", 0, "openings", 0, "kind"), "hol", "word-unknown", "did you mean hole?"),
    (("plates", 0), 5, "wrong-type", "plate number 1: it is 5 where a group in braces belongs"),
    (("plates",), 5, "wrong-type", "plates: it is 5 where a list belongs"),
    (("bolts", 1, "name"), "  ", "value-refused", "a name cannot be empty"),
    (("bolts", 1, "joins", "to"), "bos", "word-unknown", "bolt 2, joins"),
    (("bolts", 1, "washer"), "standart", "word-unknown", "did you mean standard?"),
    (("bolts", 1, "preload_n"), [5, 2], "value-refused", "the low end 5 is above the high end 2"),
    (("bolts", 1, "face_friction"), 1.5, "number-out-of-range", "it is 1.5 and has to be at most 1"),
    (("casing", "mass_kg"), "heavy", "wrong-type", "casing, mass_kg"),
    (("dash_bar", "ends", 1, "kind"), "welted", "word-unknown", "dash_bar, end number 2, kind"),
    (("column", "held_by"), "magic", "word-unknown", "nothing, bearings or donor mount"),
    (("loads", "couple", "source"), "guessed", "word-unknown", "loads, couple"),
    (("limits",), {"turn_deg": 0}, "number-out-of-range", "limits, turn_deg"),
]  # fmt: skip


@pytest.mark.parametrize(("steps", "value", "code", "said"), BAD_VALUES)
def test_a_bad_value_is_one_finding_and_the_rest_goes_on(
    steps: tuple[str | int, ...], value: object, code: str, said: str
) -> None:
    reading = bracket_of(example_bytes(changed(*steps, to=value)))
    words = only_sentence(reading, code)
    assert said in words
    assert "; " in words  # and then the next step
    assert reading.findings[0].bars_verdict
    assert reading.bracket is not None
    assert reading.bracket.wheel == example_bracket().wheel


def test_what_goes_with_a_bad_value_is_the_smallest_sound_thing() -> None:
    whole = example_bracket()
    no_bolt = bracket_of(example_bytes(changed("bolts", 1, "size", to=8)))
    assert no_bolt.bracket == whole.without_bolt("2")
    assert no_bolt.findings[0].severity == "stop"
    no_hole = bracket_of(example_bytes(changed("plates", 0, "openings", 4, "diameter_mm", to=-1)))
    assert no_hole.bracket == whole.with_plate(whole.plates[0].without("shaft"))
    default = bracket_of(example_bytes(changed("bolts", 1, "scatter", to=7)))
    assert default.bracket == whole
    assert default.findings[0].severity == "doubt"
    unlocked = bracket_of(example_bytes(changed("bolts", 3, "locking", to=5)))
    assert unlocked.findings[0].severity == "doubt"  # a locking nut takes some of the torque
    outline = bracket_of(example_bytes(changed("plates", 0, "outline", 1, "at_mm", to="corner")))
    assert outline.bracket == whole.but(plates=())  # an outline with a corner missing would be another plate


def test_an_unknown_key_is_told_with_the_nearest_known_one() -> None:
    data = changed("plates", 0, "thicknes_mm", to=5)
    data["bolts"][0]["joins"]["bos"] = "a"
    data["loads"]["couple"]["couple"] = 3
    data["plates"][0]["openings"][0]["dia"] = 3
    reading = bracket_of(example_bytes(data))
    assert reading.bracket == example_bracket()
    assert codes(reading) == ["key-unknown"] * 4
    assert [f.severity for f in reading.findings] == ["doubt"] * 4
    said = " ".join(reading.sentences)
    for words in (
        "plate main: thicknes_mm is not known",
        "did you mean thickness_mm?",
        "did you mean boss?",
        "did you mean couple_nm?",
    ):
        assert words in said
    assert "plate main, opening left: dia is not known there and was left out" in said


def test_a_missing_key_is_named() -> None:
    data = example_data()
    del data["casing"]["mass_kg"]
    del data["bolts"][2]["size"]
    reading = bracket_of(example_bytes(data))
    assert codes(reading) == ["key-missing"] * 2
    assert set(reading.sentences) == {
        "casing: mass_kg is missing, and without it this part was left out; give it",
        "bolt 3: size is missing, and without it this part was left out; give it",
    }
    assert reading.bracket is not None
    assert reading.bracket.casing is None
    assert [b.name for b in reading.bracket.bolts] == ["1", "2", "4"]


def test_doubled_keys_are_told() -> None:
    text = example_bytes().decode().replace('"thickness_mm": 6', '"thickness_mm": 6, "thickness_mm": 4')
    reading = bracket_of(text.encode())
    assert "plate main, thickness_mm: thickness_mm stands there more than once" in only_sentence(
        reading, "key-doubled"
    )
    assert reading.findings[0].bars_verdict


def test_everything_wrong_is_told_in_one_pass() -> None:
    data = changed("plates", 0, "thickness_mm", to=-1)
    data["bolts"][0]["washer"] = {"outer_mm": -1, "inner_mm": 8, "thickness_mm": 2}
    data["wheel"]["diameter_mm"] = "wide"
    data["casing"]["bosses"][1]["colour"] = "red"
    data["rake_deg"] = 400
    reading = bracket_of(example_bytes(data))
    assert sorted(codes(reading)) == sorted(["number-out-of-range"] * 3 + ["wrong-type", "key-unknown"])


def test_signs_that_draw_on_a_screen_are_taken_out() -> None:
    data = changed("plates", 0, "name", to="ma\x1b[2Jin")
    for bolt in data["bolts"]:
        bolt["plate"] = "ma\x1b[2Jin"
    data["title"] = "half a sign \ud800"
    data["key\x1b[31m"] = 1
    reading = bracket_of(json.dumps(data).encode())
    assert reading.bracket is not None
    assert reading.bracket.plates[0].name == reading.bracket.bolts[0].plate == "ma[2Jin"
    assert set(codes(reading)) == {"text-control", "key-unknown"}
    assert all(words.isprintable() for words in reading.sentences)
    assert example_bytes().decode()  # and it can be saved again
    bracket_file.bracket_text(reading.bracket).encode()


@pytest.mark.parametrize(
    ("what", "count", "entry", "most"),
    [
        ("plates", 201, {}, 200),
        ("bolts", 2001, {}, 2000),
        ("anchors", 201, {}, 200),
    ],
)
def test_counts_are_bounded(what: str, count: int, entry: dict[str, Any], most: int) -> None:
    reading = bracket_of(example_bytes(changed(what, to=[entry] * count)))
    assert reading.bracket is None
    assert f"holds {count} {what} and the most that is read is {most}" in only_sentence(reading, "too-many")


def test_10_000_holes_and_20_001_corners_are_refused() -> None:
    hole = {"kind": "hole", "name": "h", "centre_mm": [0, 0], "diameter_mm": 1}
    reading = bracket_of(example_bytes(changed("plates", 0, "openings", to=[hole] * 10_000)))
    assert "10000 openings" in only_sentence(reading, "too-many")
    corners = [{"at_mm": [i, i % 7]} for i in range(20_001)]
    assert codes(bracket_of(example_bytes(changed("plates", 0, "outline", to=corners)))) == ["too-many"]


def test_more_values_than_any_bracket_has_are_refused_before_they_are_built() -> None:
    keys = ",".join(f'"k{i}":1' for i in range(300_000))
    assert "300002 values" in only_sentence(
        bracket_of(f'{{"format":"x","version":1,"x":2,{keys}}}'.encode()), "too-many"
    )


def test_many_findings_of_a_kind_are_counted_not_listed() -> None:
    reading = bracket_of(example_bytes(changed("bolts", to=[5] * 1500)))
    assert codes(reading).count("wrong-type") == MOST_FINDINGS
    assert f"{1500 - MOST_FINDINGS} more findings of the kind wrong-type" in " ".join(reading.sentences)


def test_a_broken_stored_result_is_only_a_note() -> None:
    reading = bracket_of(example_bytes(changed("claim", to={"hash": "x", "verdict": "pass", "version": 3})))
    assert reading.bracket == example_bracket()
    assert {finding.severity for finding in reading.findings} == {"note"}


@pytest.mark.parametrize("path", sorted(OLD_FILES.glob("*.bracket.json")), ids=lambda path: path.name)
def test_every_old_version_keeps_opening(path: Path, tmp_path: Path) -> None:
    reading = read_bracket(path)
    assert reading.findings == ()
    assert reading.bracket is not None
    save_bracket(tmp_path / "again.bracket.json", reading.bracket)
    assert read_bracket(tmp_path / "again.bracket.json") == reading


def test_version_1_means_what_it_meant() -> None:
    bracket = read_bracket(OLD_FILES / "version_1.bracket.json").bracket
    assert bracket is not None
    assert [p.name for p in bracket.plates] == ["casing plate", "strap"]
    assert bracket.plate("casing plate").folds[0].k_factor == 0.4
    assert [o.kind for o in bracket.plates[0].openings] == ["hole", "hole", "hole", "slot", "cut-out"]
    assert bracket.bolt("2").preload_n == (12000, 18000)
    assert bracket.loads.couple.value_nm == 34
    assert bracket.loads.couple_factor == 1.6
    assert bracket.limits.movement_mm == 0.15
    assert bracket.limits.pull_movement_mm == 2.0


def test_older_versions_are_brought_up_step_by_step(monkeypatch: pytest.MonkeyPatch) -> None:
    def named_otherwise(data: dict[str, Any]) -> dict[str, Any]:
        return {("title" if key == "heading" else key): value for key, value in data.items()}

    monkeypatch.setitem(bracket_file._MIGRATIONS, 0, named_otherwise)
    data = {"heading": "old", **changed("version", to=0)}
    del data["title"]
    reading = bracket_of(example_bytes(data))
    assert reading == Reading(example_bracket().but(title="old"), ())


def test_saving_keeps_the_previous_file_beside_it(tmp_path: Path) -> None:
    path = tmp_path / "mine.bracket.json"
    first, second = example_bracket(), example_bracket().but(title="second")
    save_bracket(path, first)
    assert not previous_of(path).exists()
    save_bracket(path, second)
    assert read_bracket(path).bracket == second
    assert read_bracket(previous_of(path)).bracket == first
    assert previous_of(path).name == "mine.bracket.json~"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["mine.bracket.json", "mine.bracket.json~"]


def test_saving_keeps_mode_and_link(tmp_path: Path) -> None:
    real, link = tmp_path / "real.bracket.json", tmp_path / "link.bracket.json"
    save_bracket(real, example_bracket())
    real.chmod(0o640)
    link.symlink_to(real)
    save_bracket(link, example_bracket().but(title="through the link"))
    assert link.is_symlink()
    assert real.stat().st_mode & 0o777 == 0o640
    assert b"through the link" in real.read_bytes()


@pytest.mark.parametrize("step", ["fsync", "replace", "write"])
def test_a_failure_while_saving_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    path = tmp_path / "mine.bracket.json"
    save_bracket(path, example_bracket())
    before = path.read_bytes()

    def fail(*_args: object, **_more: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as broken:
        if step == "fsync":
            broken.setattr(file_replacing.os, "fsync", fail)
        elif step == "replace":
            broken.setattr(Path, "replace", fail)
        else:
            broken.setattr(file_replacing.os, "fdopen", fail)
        with pytest.raises(BracketFileError, match=r"No space left on device.*nothing was changed"):
            save_bracket(path, example_bracket().but(title="lost"))
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["mine.bracket.json"]


def test_places_that_cannot_be_saved_to(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bracket = example_bracket()
    with pytest.raises(BracketFileError, match="is a folder: give a file name"):
        save_bracket(tmp_path, bracket)
    with pytest.raises(BracketFileError, match=r"no_such.*cannot be saved.*check that the folder is there"):
        save_bracket(tmp_path / "no_such" / "mine.bracket.json", bracket)
    with pytest.raises(BracketFileError, match="cannot be saved"):
        save_bracket(tmp_path / ("x" * 5000), bracket)
    with pytest.raises(BracketFileError, match="device or a pipe"):
        save_bracket(Path("/dev/null"), bracket)

    def refuse(*_args: object, **_more: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(file_replacing.tempfile, "mkstemp", refuse)
    with pytest.raises(BracketFileError, match="Permission denied"):
        save_bracket(tmp_path / "mine.bracket.json", bracket)
    assert list(tmp_path.iterdir()) == []
    assert issubclass(BracketFileError, OSError)


def test_what_could_not_be_opened_again_is_not_saved(tmp_path: Path) -> None:
    plate = example_bracket().plates[0]
    corners = tuple(plate.outline[0].but(at_mm=(float(i) + 0.123456789, 0.0)) for i in range(20_000))
    plates = tuple(plate.but(name=f"p{i}", outline=corners) for i in range(6))
    with pytest.raises(BracketFileError, match="could not be opened again"):
        save_bracket(tmp_path / "big.bracket.json", Bracket(plates=plates))
    assert list(tmp_path.iterdir()) == []


def test_the_layout_diffs_well(tmp_path: Path) -> None:
    path = tmp_path / "mine.bracket.json"
    save_bracket(path, example_bracket())
    lines = path.read_text().splitlines()
    assert '        {"at_mm": [-70, -50], "radius_mm": 8},' in lines
    assert max(map(len, lines)) <= 110
    save_bracket(path, example_bracket().with_bolt(example_bracket().bolt("2").but(tightening_nm=26)))
    after = path.read_text().splitlines()
    assert [(a, b) for a, b in zip(lines, after, strict=True) if a != b] == [
        ('      "tightening_nm": 24,', '      "tightening_nm": 26,')
    ]


def test_the_schema_takes_a_sound_file_and_names_every_part() -> None:
    schema = json_schema()
    assert schema["$schema"].startswith("https://json-schema.org/")
    assert schema["required"] == ["format", "version"]
    assert set(example_data()) <= set(schema["properties"])
    assert schema["additionalProperties"] is False
    json.dumps(schema)
