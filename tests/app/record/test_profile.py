"""A certifier's profile: what it judges under, and every slip of the pen in it told at once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.record.given_file import GivenFileError, read_limits, read_profile
from app.record.open_items import decide
from app.record.profile import Factors, OwnLine, Profile, under
from geometry.loads import Fatigue, Limits, LoadCell, Loads, TorqueCount
from tests.app.record.examples import clear_results, locked_bracket, settled_record

WHOLE = {
    "format": "holdsquare profile",
    "version": 1,
    "name": "lane 4",
    "certifier": "R. Inventley (invented)",
    "limits": {"turn_deg": 0.05},
    "factors": {"stated": 2.5, "pull_n": 400},
    "check_list": [{"group": "welds", "words": "coded welder", "clause": "rule 4.2"}],
    "cautions": ["Bring the donor's label."],
}


def written(folder: Path, data: object) -> Path:
    path = folder / "lane.json"
    path.write_text(data if isinstance(data, str) else json.dumps(data), encoding="utf-8")
    return path


def test_a_whole_profile_is_read(tmp_path: Path) -> None:
    path = written(tmp_path, WHOLE)
    profile = read_profile(path)
    assert profile.limits == Limits(turn_deg=0.05)
    assert profile.factors == Factors(stated=2.5, pull_n=400)
    assert profile.check_list == (OwnLine(group="welds", words="coded welder", clause="rule 4.2"),)
    assert profile.cautions == ("Bring the donor's label.",)
    assert read_limits(path) == profile.limits


def test_limits_alone_are_a_profile(tmp_path: Path) -> None:
    path = written(tmp_path, {"turn_deg": 0.05})
    assert read_profile(path) == Profile(name="lane", limits=Limits(turn_deg=0.05))
    assert read_limits(path) == Limits(turn_deg=0.05)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"limits": {"turn_degs": 0.05}}, "there is no limit 'turn_degs' in limits; did you mean turn_deg?"),
        (
            {"limits": {"turn_deg": "0.05"}},
            "limits, turn_deg is '0.05'; it has to be a finite number, such as 0.1",
        ),
        ({"limits": {"turn_deg": True}}, "has to be a finite number"),
        ({"factors": {"stated": 0}}, "factors, stated is 0; it should be greater than 0, such as 2"),
        ({"factors": {"sated": 2}}, "there is no key 'sated' in factors; did you mean stated?"),
        ({"check_list": [{"group": "welding", "words": "x"}]}, "check_list, number 1, group is 'welding'"),
        ({"check_list": [{"group": "welds"}]}, "check_list, number 1, words is missing"),
        ({"caution": ["x"]}, "did you mean cautions?"),
        ({"version": 2}, "version is 2"),
        ({"format": "holdsquare bracket"}, 'a profile holds "format": "holdsquare profile"'),
    ],
)
def test_every_slip_is_told_and_nothing_is_used(
    tmp_path: Path, change: dict[str, object], words: str
) -> None:
    with pytest.raises(GivenFileError) as refused:
        read_profile(written(tmp_path, WHOLE | change))
    assert words in str(refused.value)


def test_all_slips_are_told_at_once(tmp_path: Path) -> None:
    slips = WHOLE | {"limits": {"turn_deg": -1, "yeld_factor": 2}, "factors": {"pull_n": "much"}}
    with pytest.raises(GivenFileError) as refused:
        read_profile(written(tmp_path, slips))
    assert len(str(refused.value).split("\n")) == 3


@pytest.mark.parametrize(
    "text",
    ['{"turn_deg": NaN}', '{"limits": {"turn_deg": 1e999}, "format": "holdsquare profile", "version": 1}'],
)
def test_what_is_no_number_is_told(tmp_path: Path, text: str) -> None:
    with pytest.raises(GivenFileError, match="finite number"):
        read_profile(written(tmp_path, text))


def test_a_key_twice_deep_inside_is_told(tmp_path: Path) -> None:
    text = json.dumps(WHOLE).replace('"turn_deg": 0.05', '"turn_deg": 0.05, "turn_deg": 9')
    with pytest.raises(GivenFileError, match="turn_deg stands in it more than once"):
        read_profile(written(tmp_path, text))


def test_the_profiles_limits_stand_in_place_of_the_builders() -> None:
    loose = locked_bracket().but(limits=Limits(turn_deg=0.5, yield_factor=1.1))
    assert under(loose, Profile()).limits == Limits()
    assert under(loose, Profile(limits=Limits(turn_deg=0.04))).limits == Limits(turn_deg=0.04)


def test_of_loads_the_severer_counts() -> None:
    bracket = locked_bracket()
    kind = bracket.but(loads=bracket.loads.but(factor=1.1, pull_n=50, weight_g=1))
    judged = under(kind, Profile()).loads
    assert (judged.couple_factor, judged.pull_n, judged.weight_g) == (2.0, Loads().pull_n, Loads().weight_g)
    hard = bracket.but(loads=bracket.loads.but(factor=3.0, pull_n=500, weight_g=5))
    assert under(hard, Profile()).loads == hard.loads
    brief = bracket.but(loads=bracket.loads.but(fatigue=Fatigue(full_cycles=1), couple_uncertainty=0.0))
    judged = under(brief, Profile()).loads
    assert (judged.fatigue.full_cycles, judged.couple_may_be_more) == (200_000, 0.25)
    assert under(brief, Profile(factors=Factors(full_cycles=10**6))).loads.fatigue.full_cycles == 10**6
    often = Loads(couple=bracket.loads.couple, fatigue=Fatigue(full_cycles=10**7), couple_uncertainty=0.4)
    assert under(bracket.but(loads=often), Profile()).loads == often
    listed = Fatigue(spectrum=(TorqueCount(torque_nm=3, count=10),))
    assert under(bracket.but(loads=bracket.loads.but(fatigue=listed)), Profile()).loads.fatigue == listed
    measured = bracket.but(loads=Loads(couple=LoadCell(force_n=100, arm_mm=300), factor=1.0))
    assert under(measured, Profile(factors=Factors(measured=1.7))).loads.couple_factor == 1.7


def test_what_asks_for_nothing_else_leaves_the_bracket_alone() -> None:
    assert under(locked_bracket(), Profile()) == locked_bracket()


def test_a_profile_that_allows_more_than_usual_is_called_so_wherever_it_is_kept() -> None:
    loose = Profile(name="x" * 200, limits=Limits(turn_deg=5.0))
    assert loose.called.endswith("x, looser than usual")
    decided = decide(settled_record(), "accept", (), clear_results(), loose.called)
    assert decided.computed is not None
    assert decided.computed.judged_under == loose.called
    assert Profile(name="lane 5", limits=Limits(turn_deg=0.05)).called == "lane 5"


@pytest.mark.parametrize(
    "load", [{"measured": 1.0}, {"stated": 1.0}, {"pull_n": 0}, {"weight_g": 1}, {"full_cycles": 10}]
)
def test_a_profile_with_milder_loads_than_usual_is_called_so_too(load: dict[str, float]) -> None:
    """A builder's own low factor stands under it, and a bare name would be taken for the usual loads."""
    loose = Profile(name="lane 6", factors=Factors.model_validate(load))
    assert loose.called == "lane 6, looser than usual"
    assert Profile(name="lane 7", factors=Factors(stated=2.5, pull_n=400)).called == "lane 7"
