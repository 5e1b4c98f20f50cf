"""Open items keep a record open whatever is computed; what may be accepted, and what is printed of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.record.check_list import AS_DRAWN_LINE, GROUPS, PROOF_LINE, lines_of, missing_lines, new_record
from app.record.due import with_conditions
from app.record.open_items import DecisionRefused, OpenItem, decide, items_of, open_items, standing_of
from app.record.profile import OwnLine, Profile
from app.record.record import (
    DecisionWord,
    Due,
    Item,
    Measured,
    MeasuredHole,
    MeasuredThickness,
    MeasuredTorque,
    Play,
    Record,
)
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.fixing import Anchor
from solver.results import Results, Verdict
from tests.app.record.examples import (
    PROFILE,
    clear_results,
    good_proof,
    locked_bracket,
    measured,
    settled_record,
)
from tests.brackets import one_piece


def items(record: Record, results: Results | None = None, **given: object) -> tuple[OpenItem, ...]:
    return open_items(record, results or clear_results(), locked_bracket(), PROFILE, **given)  # type: ignore[arg-type]


def words(record: Record, results: Results | None = None, **given: object) -> str:
    return " | ".join(item.words for item in items(record, results, **given))


def with_line(record: Record, place: int, **changes: object) -> Record:
    return record.with_item(place, **changes)


def test_a_settled_record_has_nothing_open() -> None:
    assert items(settled_record()) == ()


def test_every_group_of_the_trade_has_a_line() -> None:
    assert [*dict.fromkeys(item.group for item in lines_of(PROFILE, one_piece()))] == list(GROUPS)


@pytest.mark.parametrize("place", range(16))
def test_each_line_by_itself_keeps_it_open_and_bars_acceptance(place: int) -> None:
    record = with_line(settled_record(), place, state="open")
    found = items(record)
    assert [item.line for item in found] == [place]
    accepted = record.but(decision="accept")
    assert standing_of(accepted, found, clear_results()).word == "open"
    with pytest.raises(DecisionRefused, match=r"cannot be accepted: .*Settle what is open first"):
        decide(record, "accept", found, clear_results())


def test_not_applicable_needs_a_remark_and_not_met_stays_open() -> None:
    record = settled_record()
    assert "no remark says why" in words(with_line(record, 0, state="not applicable"))
    assert words(with_line(record, 0, state="not applicable", remark="no fold")) == ""
    assert "not met (crack)" in words(with_line(record, 0, state="not met", remark="crack"))


@pytest.mark.parametrize("verdict", ["pass", "marginal", "fail", "no verdict"])
@pytest.mark.parametrize("decision", ["accept", "accept with conditions"])
def test_no_verdict_closes_an_open_line(verdict: Verdict, decision: DecisionWord) -> None:
    record = with_line(settled_record(), 14, state="open").but(
        decision=decision, conditions=("check the lamp",), reason="a reason that is long enough"
    )
    results = clear_results(verdict)
    standing = standing_of(record, items(record, results), results)
    assert standing.word == "open"
    assert standing.exit_code == (1 if verdict == "fail" else 2)
    assert "lamp" in standing.sentence


def test_a_computed_fail_is_accepted_only_with_a_reason_that_is_printed() -> None:
    record, failed = settled_record(), clear_results("fail")
    with pytest.raises(DecisionRefused, match="computed verdict is FAIL and no reason is given"):
        decide(record, "accept", (), failed)
    with pytest.raises(DecisionRefused, match="no reason"):
        decide(record.but(reason="  ok   "), "accept", (), failed)
    reasoned = decide(record.but(reason="tested to 90 N.m on the rig"), "accept", (), failed)
    standing = standing_of(reasoned, (), failed)
    assert (standing.word, standing.exit_code) == ("accepted", 0)
    assert "FAIL, accepted for this reason: tested to 90 N.m on the rig" in standing.sentence
    # and the same record with the reason rubbed out in the file is open again
    rubbed = standing_of(reasoned.but(reason=""), (), failed)
    assert (rubbed.word, rubbed.exit_code) == ("open", 1)


def test_another_verdict_than_it_was_accepted_with_opens_it_again() -> None:
    accepted = decide(settled_record(), "accept", (), clear_results("pass"), "lane 4")
    assert accepted.computed is not None
    assert (accepted.computed.verdict, accepted.computed.judged_under) == ("pass", "lane 4")
    assert items(accepted, clear_results("pass")) == ()
    for now in ("marginal", "fail"):
        said = words(accepted, clear_results(now))  # type: ignore[arg-type]
        assert f"accepted with PASS under lane 4, version 0.1.0; now it is {now.upper()}" in said
    # it is decided anew by way of undecided
    undecided = decide(accepted, "undecided", (), clear_results("marginal"))
    assert undecided.computed is None
    again = decide(
        undecided, "accept", items(undecided, clear_results("marginal")), clear_results("marginal")
    )
    assert items(again, clear_results("marginal")) == ()


def test_holding_to_less_than_it_was_accepted_with_opens_it_again() -> None:
    before = clear_results("pass", holds_to_nm=60.0)
    accepted = decide(settled_record(), "accept", (), before, "lane 4")
    for same in (60.0, 59.9, 80.0):
        assert items(accepted, clear_results("pass", holds_to_nm=same)) == ()
    said = words(accepted, clear_results("pass", holds_to_nm=41.0))
    assert "accepted with PASS, holding to 60 N.m under lane 4" in said
    assert "now it is PASS, holding to 41 N.m: set it undecided and decide anew" in said
    assert "no known couple" in words(accepted, clear_results("pass", holds_to_nm=None))


def test_a_condition_past_its_day_opens_what_was_accepted_with_it() -> None:
    record = settled_record().but(decision="accept with conditions")
    late = with_conditions(record, ["refit bolt 3 by 2020-05-30"])
    assert words(late) == "refit bolt 3: was to be done by 2020-05-30, and nobody has written that it is"
    assert standing_of(late, items(late), clear_results()).word == "open"
    for line in ("refit bolt 3 by 2020-05-30, done 2020-05-28", "refit bolt 3 by 9998-05-30", "refit bolt 3"):
        assert items(with_conditions(record, [line])) == ()


def test_conditions_have_to_be_written() -> None:
    record = settled_record()
    with pytest.raises(DecisionRefused, match="no condition is written down"):
        decide(record.but(conditions=(" ",)), "accept with conditions", (), clear_results())
    decided = decide(record.but(conditions=("check after 500 km",)), "accept with conditions", (), None)
    standing = standing_of(decided, (), clear_results())
    assert standing.word == "accepted with conditions"
    assert "check after 500 km" in standing.sentence


@pytest.mark.parametrize(
    ("decision", "verdict", "word", "code"),
    [
        ("accept", "pass", "accepted", 0),
        ("accept", "marginal", "accepted", 0),
        ("undecided", "pass", "open", 2),
        ("undecided", "fail", "open", 1),
        ("ask", "pass", "asked", 2),
        ("refuse", "pass", "refused", 1),
        ("refuse", "no verdict", "refused", 1),
    ],
)
def test_how_it_stands(decision: DecisionWord, verdict: Verdict, word: str, code: int) -> None:
    record = settled_record().but(decision=decision)
    standing = standing_of(record, (), clear_results(verdict))
    assert (standing.word, standing.exit_code) == (word, code)


def test_refusing_and_asking_need_nothing_settled() -> None:
    record = with_line(settled_record(), 0, state="open")
    for decision in ("refuse", "ask", "undecided"):
        assert decide(record, decision, items(record), None).decision == decision  # type: ignore[arg-type]


def test_no_results_and_no_verdict_are_open() -> None:
    found = open_items(settled_record(), None, locked_bracket(), PROFILE)
    assert [item.words for item in found] == ["nothing is computed yet"]
    assert words(settled_record(), clear_results("no verdict", reasons=("the mesh cannot settle",))) == (
        "the mesh cannot settle"
    )


def test_other_inputs_a_blank_name_and_a_blank_date_are_open() -> None:
    changed = settled_record().but(bracket_hash="0" * 64)
    assert "inputs have changed since the record was begun" in words(changed)
    assert "name is blank" in words(settled_record().but(certifier=" "))
    assert "date is blank" in words(settled_record().but(date=""))
    assert "the date 2031-02-31 is no day" in words(settled_record().but(date="2031-02-31"))
    assert words(settled_record().but(date="2032-02-29")) == ""


def test_a_blank_beside_a_fail_stays_open() -> None:
    blank = Finding("blank-grade", "doubt", "bolt 2")
    assert "its grade is blank" in words(settled_record(), _failed(blank))


def _failed(*findings: Finding) -> Results:
    return replace(clear_results("fail"), findings=findings)


def test_lines_of_the_profile_are_missed() -> None:
    profile = Profile(check_list=(OwnLine(group="welds", words="coded welder", clause="rule 4"),))
    found = open_items(settled_record(), clear_results(), locked_bracket(), profile)
    assert [(item.about, item.words) for item in found] == [
        ("welds", "coded welder: this line is missing in the record")
    ]


def test_a_line_taken_out_of_the_record_is_missed() -> None:
    record = settled_record()
    shorter = record.but(check_list=record.check_list[:-1])
    assert words(shorter) == (
        "The car can be steered lock to lock with the assist off: this line is missing in the record"
    )


def test_a_bolt_without_locking_is_open() -> None:
    bracket = locked_bracket()
    bracket = bracket.with_bolt(bracket.bolts[0].but(locking=" "))
    found = open_items(settled_record(bracket), clear_results(), bracket, PROFILE)
    assert [item.words for item in found] == ["bolt bolt 1 is without locking"]


def test_what_was_measured_has_to_be_judged() -> None:
    thin = Measured(thicknesses=(MeasuredThickness(plate="front", thickness_mm=5.2),), proof=(good_proof(),))
    record = settled_record().but(measured=thin)
    assert words(record) == "not judged yet as built: plate front is 5.2 mm thick, drawn 6"
    assert words(record, built=clear_results("marginal")) == ""
    assert "as built the verdict is FAIL" in words(record, built=clear_results("fail"))
    assert "as built the verdict is NO VERDICT" in words(record, built=clear_results("no verdict"))


def test_measurements_of_what_there_is_not_are_open() -> None:
    strange = Measured(
        thicknesses=(MeasuredThickness(plate="back", thickness_mm=5.2),),
        holes=(MeasuredHole(plate="front", opening="h9", centre_mm=(0, 0)),),
        torques=(MeasuredTorque(bolt="77", tightening_nm=20),),
        proof=(good_proof(),),
    )
    said = words(settled_record().but(measured=strange))
    for piece in ("plate back, which there is not", "hole h9 is noted", "bolt 77, which there is not"):
        assert piece in said


def test_play_beyond_what_is_allowed_or_allowed_by_nobody() -> None:
    def said(play: Play) -> str:
        return words(settled_record().but(measured=measured(play=(play,))))

    assert said(Play(where="lower joint", play_mm=0.1, most_mm=0.2)) == ""
    assert "more than 0.2 mm" in said(Play(where="lower joint", play_mm=0.3, most_mm=0.2))
    assert "nobody says how much" in said(Play(where="lower joint", play_mm=0.0))


def test_a_proof_that_is_met_needs_readings() -> None:
    record = settled_record().but(measured=measured(proof=()))
    assert words(record) == "the proof is said to be met and no reading of it is written down"
    place = [item.words for item in record.check_list].index(PROOF_LINE)
    assert words(record.with_item(place, state="not applicable", remark="bench rig")) == ""


def test_findings_about_a_file_that_touch_the_matter_are_open() -> None:
    doubt = Finding("key-unknown", "doubt", "file", {"key": "colour", "near": ""})
    note = Finding("text-control", "note", "file", {"value": "x"})
    assert [item.about for item in items_of((doubt, note))] == ["record"]


def test_a_thickness_that_is_said_to_be_measured_has_to_be_written_down() -> None:
    record = settled_record().but(measured=measured(thicknesses=()))
    assert words(record) == "plate front: its thickness is said to be measured and is not written down"
    place = [item.words for item in record.check_list].index(AS_DRAWN_LINE)
    assert words(record.with_item(place, state="not applicable", remark="bench rig")) == ""


def test_a_line_is_there_for_a_dash_bar_or_an_anchor_alone_that_the_bracket_has() -> None:
    def lines(bracket: Bracket) -> list[str]:
        return [item.words for item in lines_of(PROFILE, bracket) if item.group == "structure"]

    bar, anchor = "What the dash bar ends in", "Every anchor"
    without = locked_bracket().but(dash_bar=None, anchors=())
    assert lines(without) == []
    with_bar = one_piece().but(anchors=())
    assert [words.startswith(bar) for words in lines(with_bar)] == [True]
    anchored = without.but(anchors=(Anchor(name="a", at_mm=(0, 0, 0), word="the fabricator"),))
    assert [words.startswith(anchor) for words in lines(anchored)] == [True]
    # a record begun for a bracket without anchors lacks the line once there is one
    record = new_record(without, "x.bracket.json", PROFILE)
    assert [item.words.startswith(anchor) for item in missing_lines(record, PROFILE, anchored)] == [True]
    older = record.but(
        check_list=(
            *record.check_list, Item(group="structure", words="Every anchor is what its word says it is"),
        )
    )  # fmt: skip
    assert missing_lines(older, PROFILE, anchored) == ()


def test_an_acceptance_says_where_it_is_built_otherwise_than_it_was_judged() -> None:
    accepted = decide(settled_record(), "accept", (), clear_results("pass"))
    worse = standing_of(accepted, (), clear_results("pass"), clear_results("marginal"))
    assert worse.sentence == "Accepted; drawn it is PASS, as built MARGINAL."
    assert standing_of(accepted, (), clear_results("pass"), clear_results("pass")).sentence == "Accepted."


def test_a_line_said_twice_is_met_if_it_is_met_anywhere() -> None:
    """A second one, not applicable, hid that the proof was said to be met with no reading of it."""
    record = settled_record()
    for line, lacking in ((PROOF_LINE, {"proof": ()}), (AS_DRAWN_LINE, {"thicknesses": ()})):
        (met,) = (item for item in record.check_list if item.words == line)
        again = met.but(state="not applicable", remark="see above")
        twice = record.but(check_list=(*record.check_list, again), measured=measured(**lacking))
        found = open_items(twice, clear_results(), locked_bracket(), PROFILE)
        assert [item.about for item in found] == ["measured"]


@pytest.mark.parametrize("day", [{"by": "9999-99-99"}, {"by": "2031-05-30", "done": "2031-02-31"}])
def test_a_day_that_never_comes_keeps_a_record_open(day: dict[str, str]) -> None:
    due = Due.model_validate({"words": "refit bolt 3", **day})
    record = settled_record().but(conditions=("refit bolt 3",), due=(due,))
    found = open_items(record, clear_results(), locked_bracket(), PROFILE)
    assert [item.words for item in found] == [
        f"refit bolt 3: {day.get('done') or day['by']} is no day: type it as 2031-05-30"
    ]
