"""`record` on the command line: what it prints, its exit codes; the builder's file is never touched."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.record import judging
from app.record.comparison import Judgements
from app.record.profile import Profile
from app.record.record import Measured, Play
from app.record.record_file import read_record, save_record
from geometry.bracket_file import save_bracket
from geometry.loads import Limits
from solver.results import Verdict
from tests.app.record.examples import clear_results, locked_bracket, measured, settled_record
from tests.app.record.test_stiffness import DONOR, OWN
from tests.app.running import Outcome, Runner, lines_too_long


@pytest.fixture
def bench(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Bench:
    monkeypatch.chdir(tmp_path)
    return Bench(Runner(monkeypatch, capsys, tmp_path), monkeypatch, tmp_path)


class Bench:
    """Runs the command on one bracket, with a given verdict in place of an analysis."""

    def __init__(self, runner: Runner, monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
        self.runner, self.folder = runner, folder
        self.verdict: Verdict = "pass"
        self.profiles: list[Profile] = []
        self.file = folder / "x.bracket.json"
        self.record = folder / "x.record.json"
        save_bracket(self.file, locked_bracket())

        def judged_for(_b: object, _r: object, profile: Profile, **given: object) -> Judgements:
            self.profiles.append(profile)
            found = given["file_findings"]
            return Judgements(under_profile=clear_results(self.verdict), file_findings=found)  # type: ignore[arg-type]

        monkeypatch.setattr(judging, "judged_for", judged_for)

    def run(self, *arguments: str | Path) -> Outcome:
        return self.runner.run("record", self.file, *arguments)


def test_without_a_record_everything_is_open_and_nothing_is_written(bench: Bench) -> None:
    before = bench.file.read_bytes()
    outcome = bench.run()
    assert outcome.code == 2
    flat = " ".join(outcome.out.split())
    assert "OPEN: Not decided; 17 items are open." in flat
    assert "There is no record yet: --new begins one in" in flat
    assert lines_too_long(outcome.out) == []
    assert sorted(p.name for p in bench.folder.iterdir()) == ["x.bracket.json"]
    assert bench.file.read_bytes() == before


def test_new_begins_a_record_once(bench: Bench) -> None:
    assert bench.run("--new").code == 2
    first = bench.record.read_bytes()
    reading = read_record(bench.record)
    assert reading.record is not None
    assert all(item.state == "open" for item in reading.record.check_list)
    again = bench.run("--new")
    assert again.code == 64
    assert "is there already: leave --new out" in " ".join(again.err.split())
    assert bench.record.read_bytes() == first


@pytest.mark.parametrize(
    ("decision", "verdict", "reason", "code"),
    [
        ("accept", "pass", "", 0),
        ("accept", "marginal", "", 0),
        ("accept", "fail", "", 1),
        ("accept", "fail", "held 90 N.m on the rig", 0),
        ("accept", "no verdict", "", 2),
        ("undecided", "pass", "", 2),
        ("refuse", "pass", "", 1),
        ("ask", "pass", "", 2),
    ],
)
def test_exit_codes(bench: Bench, decision: str, verdict: Verdict, reason: str, code: int) -> None:
    save_record(bench.record, settled_record().but(decision=decision, reason=reason))
    bench.verdict = verdict
    outcome = bench.run()
    assert outcome.code == code
    if reason:
        assert reason in " ".join(outcome.out.split())


def test_an_accepted_record_of_a_changed_bracket_is_open(bench: Bench) -> None:
    save_record(bench.record, settled_record().but(decision="accept"))
    assert bench.run().code == 0
    changed = locked_bracket().with_plate(locked_bracket().plates[0].but(thickness_mm=3))
    save_bracket(bench.file, changed)
    outcome = bench.run()
    assert outcome.code == 2
    assert "the inputs have changed since the record was begun" in " ".join(outcome.out.split())


def test_a_record_with_an_unknown_key_is_open_whatever_it_says(bench: Bench) -> None:
    save_record(bench.record, settled_record().but(decision="accept"))
    data = json.loads(bench.record.read_text()) | {"chek_list": []}
    bench.record.write_text(json.dumps(data))
    outcome = bench.run()
    assert outcome.code == 2
    assert "chek_list is not known there" in " ".join(outcome.out.split())


def test_the_proof_and_the_donors_stiffness_are_told(bench: Bench) -> None:
    record = settled_record().but(measured=Measured(donor=DONOR, proof=(OWN,)))
    save_record(bench.record, record)
    data = json.loads(bench.run("--json").out)
    (proof,) = data["proof"]
    assert [line["what"] for line in proof["readings"]] == ["couple's share", "sag", "gap at zero"]
    assert proof["readings"][0]["nought"] is False
    donor, own = data["stiffness"]
    assert donor["nm_per_deg"] == pytest.approx(174.5, abs=0.1)
    assert own["beside_donor"].startswith("1.8 times as stiff as the donor's, measured")
    assert "1.8 times as stiff" in " ".join(bench.run().out.split())


def test_json_says_the_same(bench: Bench) -> None:
    save_record(bench.record, settled_record().with_item(14, state="open"))
    data = json.loads(bench.run("--json").out)
    assert (data["standing"], data["exit_code"], data["verdict"]) == ("open", 2, "pass")
    assert [item["about"] for item in data["open_items"]] == ["warning lamp"]
    assert data["record"]["photographs"] == []
    assert "does not show who signed" in data["hash_shows"]


def test_a_profile_is_judged_under_and_its_cautions_are_told(bench: Bench) -> None:
    lane = bench.folder / "lane.json"
    lane.write_text(
        '{"format": "holdsquare profile", "version": 1, "name": "lane 4", "limits": {"turn_deg": 0.05},'
        ' "cautions": ["Bring the donor\'s label."],'
        ' "check_list": [{"group": "welds", "words": "coded welder"}]}'
    )
    save_record(bench.record, settled_record().but(decision="accept"))
    outcome = bench.run("--profile", lane)
    flat = " ".join(outcome.out.split())
    assert bench.profiles[0].limits == Limits(turn_deg=0.05)
    assert "judged under lane 4" in flat
    assert "Bring the donor's label." in flat
    assert outcome.code == 2
    assert "welds: coded welder: this line is missing in the record" in flat


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--record", "y.record.json"), "There is no file y.record.json here"),
        (("--profile", "x.bracket.json"), "a profile holds"),
        (("--letter", "letter.txt"), "end its name in .pdf"),
        (("--sheet", "no/sheet.pdf"), "name a file in a folder that is there"),
    ],
)
def test_bad_usage_is_a_sentence(bench: Bench, arguments: tuple[str, ...], words: str) -> None:
    outcome = bench.run(*arguments)
    assert outcome.code == 64
    assert words in " ".join(outcome.err.split())
    assert bench.profiles == []


def test_what_is_no_bracket_or_only_part_of_one_is_refused(bench: Bench) -> None:
    bench.file.write_text("{}")
    assert "cannot be read as a bracket" in " ".join(bench.run().err.split())
    save_bracket(bench.file, locked_bracket())
    data = json.loads(bench.file.read_text())
    del data["bolts"][0]["size"]
    bench.file.write_text(json.dumps(data))
    outcome = bench.run()
    assert outcome.code == 64
    assert "can be read only in part" in " ".join(outcome.err.split())


def test_a_broken_record_is_refused_and_left_alone(bench: Bench) -> None:
    bench.record.write_text('{"format": "holdsquare record", ')
    outcome = bench.run()
    assert outcome.code == 64
    assert "cannot be read as a record" in " ".join(outcome.err.split())
    assert bench.record.read_text() == '{"format": "holdsquare record", '


def test_letter_and_sheet_are_written(bench: Bench) -> None:
    save_record(bench.record, settled_record().but(decision="accept"))
    outcome = bench.run("--letter", "letter.pdf", "--sheet", "sheet.pdf")
    assert outcome.code == 0
    for name in ("letter.pdf", "sheet.pdf"):
        assert (bench.folder / name).read_bytes().startswith(b"%PDF-")


def test_a_file_alone_needs_a_name(bench: Bench) -> None:
    outcome = bench.runner.run("record")
    assert outcome.code == 64
    assert "record needs a bracket file" in " ".join(outcome.err.split())


def test_an_inch_reader_gets_inches_and_pounds_too(bench: Bench) -> None:
    play = Play(where="lower joint", play_mm=0.3, most_mm=0.2)
    save_record(bench.record, settled_record().but(measured=measured(play=(play,))))
    flat = " ".join(bench.run("--units", "inch").out.split())
    assert "play at lower joint is 0.3 mm (0.0118 in), more than 0.2 mm (0.00787 in)" in flat
    assert "for 30 N.m (22.1 lbf.ft)" in flat
    assert " in)" not in " ".join(bench.run().out.split())
