"""Steps judged once, kept, told as the least that passes, and written as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Generator, Sequence
from pathlib import Path

import pytest

from app.ladder import kept_answers
from app.ladder.climb import climb, in_order
from app.ladder.kept_answers import KeptAnswers
from app.ladder.keys import varied
from app.ladder.ladder_csv import ladder_csv
from app.ladder.ladder_curve import curve_png
from app.ladder.least import least_of
from app.ladder.rung import Answer, Rung
from app.ladder.steps import Ladder, ladder_of
from app.theme import PAPER, SLATE
from geometry.bracket import Bracket
from solver.results import Verdict
from tests.brackets import one_piece


class Judge:
    """Answers by the thickness: 5 mm and more pass."""

    def __init__(self, least_mm: float = 5.0) -> None:
        self.least_mm = least_mm
        self.asked: list[float] = []
        self.left = False

    def __call__(self, brackets: Sequence[Bracket]) -> Generator[tuple[Bracket, Answer], None, None]:
        try:
            for bracket in reversed(brackets):
                thickness = bracket.plates[0].thickness_mm
                self.asked.append(thickness)
                verdict: Verdict = "pass" if thickness >= self.least_mm else "fail"
                yield (
                    bracket,
                    Answer(verdict=verdict, holds_to_nm=10.0 * thickness, mass_kg=thickness, reason="bends"),
                )
        finally:
            self.left = True


def thicknesses(values: str = "3,4,5,6") -> Ladder:
    return ladder_of(one_piece(), [varied(f"plate.thickness={values}")])


def climbed(ladder: Ladder, judge: Judge, kept: KeptAnswers | None = None) -> list[Rung]:
    return in_order(ladder, list(climb(ladder, judge, kept)))


def test_rungs_come_as_they_are_judged_and_are_put_in_order() -> None:
    ladder, judge = thicknesses(), Judge()
    assert [r.values[0] for r in climb(ladder, judge)] == ["6", "5", "4", "3"]
    assert [r.values[0] for r in climbed(ladder, judge)] == ["3", "4", "5", "6"]


def test_the_same_inputs_are_judged_once() -> None:
    judge = Judge()
    rungs = climbed(thicknesses("5,5.0"), judge)
    assert judge.asked == [5.0]
    assert [r.answer.verdict for r in rungs] == ["pass", "pass"]


def test_a_refused_step_is_a_rung_with_its_reason() -> None:
    rungs = climbed(thicknesses("5,thick"), Judge())
    assert [r.answer.verdict for r in rungs] == ["pass", "no verdict"]
    assert "not a quantity" in rungs[1].answer.trouble


def test_kept_answers_are_not_asked_for_again_even_after_a_stop(tmp_path: Path) -> None:
    kept, judge = KeptAnswers(tmp_path), Judge()
    climbing = climb(thicknesses(), judge, kept)
    next(climbing)
    next(climbing)
    climbing.close()
    assert judge.left
    again = Judge()
    rungs = climbed(thicknesses(), again, kept)
    assert sorted(again.asked) == [3.0, 4.0]
    assert [r.kept for r in rungs] == [False, False, True, True]
    afresh = Judge()
    list(climb(thicknesses(), afresh, kept, afresh=True))
    assert len(afresh.asked) == 4


@pytest.mark.parametrize(
    "spoilt",
    [b"", b"{", b"[]", b'{"verdict": "pass"', b'{"verdict": "splendid"}', b"\xff\xfe", b'{"version": "0"}'],
)
def test_a_spoilt_kept_answer_counts_as_none(tmp_path: Path, spoilt: bytes) -> None:
    kept = KeptAnswers(tmp_path)
    climbed(thicknesses("5"), Judge(), kept)
    (file,) = tmp_path.glob("*.json")
    file.write_bytes(spoilt)
    judge = Judge()
    climbed(thicknesses("5"), judge, kept)
    assert judge.asked == [5.0]


def test_an_answer_of_another_version_counts_as_none(tmp_path: Path) -> None:
    kept = KeptAnswers(tmp_path)
    bracket = thicknesses("5").steps[0].bracket
    assert bracket is not None
    kept.keep(bracket, Answer(verdict="pass", version="0.0.0"))
    assert kept.find(bracket) is None


def test_an_answer_of_other_sources_counts_as_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A pass of before a rule was put right must not come back."""
    kept = KeptAnswers(tmp_path)
    bracket = thicknesses("5").steps[0].bracket
    assert bracket is not None
    kept.keep(bracket, Answer(verdict="pass"))
    assert kept.find(bracket) is not None
    shown = tmp_path / "geometry"
    shown.mkdir()
    (shown / "limits.py").write_text("FACTOR = 1.5\n")
    monkeypatch.setattr(kept_answers.geometry, "__path__", [str(shown)])
    kept_answers.judged_by.cache_clear()
    try:
        before = kept_answers.judged_by()
        assert kept.find(bracket) is None
        kept_answers.judged_by.cache_clear()
        (shown / "limits.py").write_text("FACTOR = 1.4\n")
        assert kept_answers.judged_by() != before
    finally:
        kept_answers.judged_by.cache_clear()


def test_trouble_is_not_kept(tmp_path: Path) -> None:
    kept = KeptAnswers(tmp_path)
    bracket = thicknesses("5").steps[0].bracket
    assert bracket is not None
    kept.keep(bracket, Answer(verdict="no verdict", trouble="the worker died"))
    assert not list(tmp_path.iterdir())


def test_a_folder_that_cannot_be_written_stops_nothing(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    assert len(climbed(thicknesses(), Judge(), KeptAnswers(blocked))) == 4


def test_the_least_that_passes_is_named_with_what_it_holds_to() -> None:
    ladder = thicknesses()
    least = least_of(ladder, climbed(ladder, Judge()))
    assert [r.values for r in least.rungs] == [("5",)]
    assert least.sentence == "The least that passes: plate.thickness 5 mm, holds to 50.0 N.m, 5.00 kg."


def test_what_is_missing_and_what_has_no_verdict_is_said() -> None:
    ladder = thicknesses("3,5,6,thick")
    rungs = climbed(ladder, Judge())
    assert "1 has no verdict" in least_of(ladder, rungs).sentence
    so_far = least_of(ladder, rungs[:2]).sentence
    assert "so far" in so_far
    assert "2 of 4 steps are not judged" in so_far
    assert least_of(ladder, []).sentence.startswith("No step passes so far.")


def rung(values: tuple[str, ...], verdict: Verdict) -> Rung:
    return Rung(values=values, answer=Answer(verdict=verdict, reason="the bend is tight"))


def test_of_several_things_varied_every_least_is_named_and_a_worse_one_above_warned_of() -> None:
    ladder = ladder_of(one_piece(), [varied("plate.thickness=3,4,6"), varied("bolt.size=M8,M10")])
    told: dict[tuple[str, str], Verdict] = {
        ("3", "M8"): "fail", ("3", "M10"): "pass", ("4", "M8"): "pass",
        ("4", "M10"): "pass", ("6", "M8"): "marginal", ("6", "M10"): "pass",
    }  # fmt: skip
    least = least_of(ladder, [rung(values, verdict) for values, verdict in told.items()])
    assert {r.values for r in least.rungs} == {("3", "M10"), ("4", "M8")}
    assert "More is not always better: plate.thickness 6 mm, bolt.size M8 is marginal" in least.sentence


def test_nothing_that_passes_is_said_with_the_least_marginal() -> None:
    ladder = thicknesses("3,4")
    sentence = least_of(ladder, [rung(("3",), "fail"), rung(("4",), "marginal")]).sentence
    assert sentence == "No step passes. Marginal at the least: plate.thickness 4 mm."


def test_csv_holds_every_figure_and_no_formula() -> None:
    ladder = thicknesses("5,6")
    rungs = climbed(ladder, Judge())
    evil = [
        Rung(
            values=("5",),
            answer=Answer(verdict="pass", ended_by="=1+1", reason="@SUM(A1)"),
            said=("-2", "+3"),
        ),
        Rung(values=("6",), answer=Answer(verdict="fail", ended_by="  =cmd", reason='a, "b"\nc')),
    ]
    for listed in (rungs, evil):
        lines = list(csv.reader(io.StringIO(ladder_csv(ladder, listed))))
        assert lines[0][:3] == ["plate.thickness (mm)", "verdict", "holds to (N.m)"]
        assert not any(cell.lstrip().startswith(("=", "+", "-", "@")) for line in lines for cell in line)
    assert list(csv.reader(io.StringIO(ladder_csv(ladder, rungs))))[1][:3] == ["5", "pass", "50"]
    assert lines[1][3] == "'=1+1"
    assert lines[2][10] == 'a, "b" c'


@pytest.mark.parametrize("theme", [PAPER, SLATE])
def test_the_curve_is_a_picture_for_one_or_several_things(theme: object) -> None:
    one = thicknesses()
    two = ladder_of(one_piece(), [varied("bolt.size=M8,M10"), varied("plate.thickness=5,6")])
    for ladder in (one, two):
        picture = curve_png(ladder, climbed(ladder, Judge()), "a $sentence$", theme)  # type: ignore[arg-type]
        assert picture.startswith(b"\x89PNG")
        assert len(picture) > 10_000
