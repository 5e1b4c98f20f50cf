"""The sample brackets: each reads without fault, its note and the analysis agree, and it saves unchanged.

The builds are invented and check no figure. What they check is that the whole way from a file to a verdict
says of each what its note says.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from geometry.bracket import Bracket
from geometry.bracket_file import SUFFIX, Reading, read_bracket, save_bracket
from geometry.findings import can_be_analysed, findings_of
from solver.analyse import analyse
from solver.kept_plates import KeptPlates
from solver.results import Results, Verdict

SAMPLES = Path(__file__).parents[2] / "sample_brackets"


@dataclass(frozen=True)
class Expected:
    """What a sample's note promises."""

    verdict: Verdict
    because: tuple[str, ...]
    """Pieces of the reasons for the verdict; each must be found in one of them."""
    free_motions: int = 0
    """Free motions that the analysis finds."""


EXPECTED: dict[str, Expected] = {
    "marlpit_no_bearing": Expected(
        "fail", ("opening uses", "movement with a pull uses", "a pull of 300 N at the wheel", "stress, plate")
    ),
    "marlpit_one_piece": Expected("pass", ("every check that can fail is within 80%",)),
    "marlpit_steady_strap": Expected("fail", ("buckling uses",)),
    "marlpit_installed": Expected("pass", ("every check that can fail is within 80%",)),
    "marlpit_installed_wrong": Expected(
        "fail",
        (
            "shaft joints, angle of joint upper",
            "cable and fuse, fuse against cable",
            "collapse travel, part upper column tube",
            "room, clear: knees",
        ),
    ),
    "marlpit_two_straps": Expected(
        "fail", ("the casing turns about the shaft", "nothing but friction stops it"), 1
    ),
    "ostler_cut_out": Expected("fail", ("inside corner, plate uses",)),
    "ostler_cut_out_radiused": Expected("pass", ("every check that can fail is within 80%",)),
    "tallow_stub": Expected("fail", ("dash bar uses", "movement with a pull uses", "turn uses")),
    "quayside_side_plate": Expected("fail", ("turn uses",)),
    "two_piece_bolted": Expected("fail", ("slip uses", "bolt 5", "turn uses")),
    "gauge_tray_yard_car": Expected("fail", ("fatigue, tray uses",)),
    "gauge_tray": Expected("marginal", ("stress, tray uses",)),
    "hedgerow_blank": Expected("no verdict", ("what else holds the column is blank",)),
    "sluice_welded": Expected("pass", ("every check that can fail is within 80%",)),
    "sluice_welded_neck": Expected("fail", ("fatigue at the root of weld top uses",)),
    "imperial_flat": Expected("pass", ("every check that can fail is within 80%",)),
}
NAMES = sorted(EXPECTED)
OF_UNTOLD_METAL = "thread under preload"
"""Over where nobody has said how strong the bosses are and the weakest is taken; that alone fails nothing."""
Judge = Callable[[str], Results]


def reading_of(name: str) -> Reading:
    return read_bracket(SAMPLES / f"{name}{SUFFIX}")


def bracket_in(name: str) -> Bracket:
    bracket = reading_of(name).bracket
    assert bracket is not None
    return bracket


@pytest.fixture(scope="session")
def judge() -> Judge:
    """Return what analyses a sample to a verdict, once; samples of the same plates stand side by side."""
    kept = KeptPlates()

    @cache
    def judged(name: str) -> Results:
        return analyse(bracket_in(name), kept=kept)

    return judged


def test_every_sample_is_in_the_table() -> None:
    assert sorted(path.name.removesuffix(SUFFIX) for path in SAMPLES.glob(f"*{SUFFIX}")) == NAMES
    told = [path.stem for path in SAMPLES.glob("*.md") if not path.with_suffix(".csv").exists()]
    assert sorted(told) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_it_reads_without_fault(name: str) -> None:
    reading = reading_of(name)
    assert reading.findings == ()
    assert can_be_analysed(findings_of(bracket_in(name)))


@pytest.mark.parametrize("name", NAMES)
def test_it_saves_byte_for_byte(name: str, tmp_path: Path) -> None:
    saved = tmp_path / f"again{SUFFIX}"
    save_bracket(saved, bracket_in(name))
    assert saved.read_bytes() == (SAMPLES / f"{name}{SUFFIX}").read_bytes()


@pytest.mark.parametrize("name", NAMES)
def test_its_note_promises_the_verdict(name: str) -> None:
    lines = (SAMPLES / f"{name}.md").read_text(encoding="utf-8").splitlines()
    promised = [line for line in lines if line.startswith("Expected verdict:")]
    assert promised == [f"Expected verdict: {EXPECTED[name].verdict.upper()}"]


@pytest.mark.parametrize("name", NAMES)
def test_the_analysis_says_so(name: str, judge: Judge) -> None:
    results, expected = judge(name), EXPECTED[name]
    assert results.verdict == expected.verdict, results.reasons
    assert results.accuracy.refined
    for piece in expected.because:
        assert any(piece in reason for reason in results.reasons), (piece, results.reasons)
    assert len(results.free_motions) == expected.free_motions, [m.words for m in results.free_motions]


@pytest.mark.parametrize("name", [name for name in NAMES if EXPECTED[name].verdict == "pass"])
def test_a_pass_has_nothing_against_it(name: str, judge: Judge) -> None:
    results = judge(name)
    assert {finding.severity for finding in results.findings} <= {"note"}
    assert max(check.used_upper for check in results.checks if check.kind != "share") <= 0.8
    assert max(check.used_upper for check in results.checks if check.kind == "share") <= 1.0
    assert results.holds_to_nm is not None
    assert results.couple_nm is not None
    assert results.holds_to_nm > results.couple_nm


def test_friction_would_hold_the_straps(judge: Judge) -> None:
    """They fail by what they are, not by what they bear: every check as computed is within its allowable."""
    results = judge("marlpit_two_straps")
    assert max(check.used for check in results.checks if check.name != OF_UNTOLD_METAL) < 1.0
    (swing,) = results.free_motions
    assert {"couple +", "couple -"} <= set(swing.driven_by)


def test_nothing_but_buckling_fails_the_steady_strap(judge: Judge) -> None:
    results = judge("marlpit_steady_strap")
    over = {check.name for check in results.checks if check.kind != "share" and check.used_upper > 1.0}
    assert over == {"buckling"}
    assert "steady strap" in results.ended_by
    assert results.holds_to_nm is not None
    assert results.couple_nm is not None
    assert results.holds_to_nm < results.couple_nm


def test_bearings_are_all_that_parts_the_two_one_piece_brackets() -> None:
    with_bearings, without = bracket_in("marlpit_one_piece"), bracket_in("marlpit_no_bearing")
    assert with_bearings.but(column=without.column).input_hash() == without.input_hash()


def test_the_stub_fails_by_its_bar_and_not_by_its_plate(judge: Judge) -> None:
    used = {check.name: check.used_upper for check in judge("tallow_stub").checks}
    assert used["dash bar"] > 1.0
    assert used["stress, plate"] < 0.8


def test_the_radiused_opening_is_all_that_parts_the_two_cut_outs() -> None:
    sharp, radiused = bracket_in("ostler_cut_out"), bracket_in("ostler_cut_out_radiused")
    opening = radiused.plate("plate").opening("motor")
    assert sharp.with_plate(sharp.plate("plate").with_opening(opening)).input_hash() == radiused.input_hash()


def test_two_small_bolts_slip_well_below_the_couple(judge: Judge) -> None:
    results = judge("two_piece_bolted")
    assert results.couple_nm is not None
    assert results.holds_to_nm is not None
    assert results.holds_to_nm < 0.5 * results.couple_nm
    assert {bolt.name for bolt in results.bolts if bolt.state == "slipped"} == {"4", "5"}


def test_the_side_plate_is_soft_and_not_weak(judge: Judge) -> None:
    results = judge("quayside_side_plate")
    over = {check.name for check in results.checks if check.used > 1.0}
    assert over <= {"turn", "movement", OF_UNTOLD_METAL}


def test_inches_are_round() -> None:
    """Every corner and hole of the inch plate stands on a sixteenth or an eighth of an inch."""
    plate = bracket_in("imperial_flat").plate("plate")
    places = [corner.at_mm for corner in plate.outline]
    places += [opening.centre_mm for opening in plate.openings if opening.kind != "cut-out"]
    for value in (value for place in places for value in place):
        assert value / 25.4 * 8.0 == pytest.approx(round(value / 25.4 * 8.0), abs=1e-3)
