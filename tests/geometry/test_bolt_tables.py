import itertools

import pytest

from geometry.bolt_tables import (
    BOLT_GRADES,
    BOLT_SIZES,
    UnknownBoltError,
    bolt_grade,
    bolt_size,
    grade_mismatch,
)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("M8", "M8"),
        ("m8", "M8"),
        ("M8x1.25", "M8"),
        ("M8 x 1", "M8x1"),
        ("M10\u00d71,25", "M10x1.25"),
        ("M8x1.0", "M8x1"),
        ("1/4-20 UNC", "1/4-20"),
        ("3/8-24unf", "3/8-24"),
        ("3/8 UNC", "3/8-16"),
        ("3/8 unf", "3/8-24"),
        ("UNC 5/16", "5/16-18"),
    ],
)
def test_spellings_of_a_size(typed: str, name: str) -> None:
    assert bolt_size(typed).name == name


@pytest.mark.parametrize(
    ("typed", "name"),
    [("class 8.8", "8.8"), ("8,8", "8.8"), ("SAE 5", "grade 5"), ("Grade 8", "grade 8"), ("a2-70", "A2-70")],
)
def test_spellings_of_a_grade(typed: str, name: str) -> None:
    assert bolt_grade(typed).name == name


@pytest.mark.parametrize(
    ("typed", "near"),
    [
        ("M11", "M10 or M12"),
        ("M9", "M8 or M10"),
        ("M 5,5", "M5 or M6"),
        ("M8x2", "M8 or M8x1"),
        ("5/16-20", "5/16-18 or 5/16-24"),
        ("9/32", "1/4-20 or 5/16-18"),
        ("5/16", "5/16-18 or 5/16-24"),
        # UNF has 24 threads: one of the two is wrong, and nobody here knows which
        ("5/16-18 UNF", "5/16-18 or 5/16-24"),
        ("3/8-24 UNC", "3/8-16 or 3/8-24"),
        ("UNC 3/8 UNF", "3/8-16 or 3/8-24"),
        ("MM8", "M8"),
    ],
)
def test_unknown_size_suggests_the_nearest_in_size(typed: str, near: str) -> None:
    with pytest.raises(UnknownBoltError, match=r"did you mean .*the table has") as caught:
        bolt_size(typed)
    assert f"did you mean {near}? " in str(caught.value)


@pytest.mark.parametrize("typed", ["M", "M.", "M99", "1/0", "0/4", "M1e9", "9" * 400 + "/1", "M" + "9" * 400])
def test_unknown_size_of_no_likely_diameter(typed: str) -> None:
    with pytest.raises(UnknownBoltError, match="the table has"):
        bolt_size(typed)


@pytest.mark.parametrize("typed", ["M20", "M4", "3/4-10", "#10-32"])
def test_a_size_beyond_the_table_gets_no_other_one_advised(typed: str) -> None:
    with pytest.raises(UnknownBoltError) as caught:
        bolt_size(typed)
    assert "did you mean" not in str(caught.value)


@pytest.mark.parametrize("typed", ["9.8", "8", "", "grade 7", "x" * 500])
def test_unknown_grade(typed: str) -> None:
    with pytest.raises(LookupError) as caught:
        bolt_grade(typed)
    assert "8.8" in str(caught.value)
    assert len(str(caught.value)) < 300


def test_every_name_finds_its_row() -> None:
    assert all(bolt_size(size.name) is size for size in BOLT_SIZES)
    assert all(bolt_grade(grade.name) is grade for grade in BOLT_GRADES)
    assert len({size.name for size in BOLT_SIZES}) == len(BOLT_SIZES) == 22


@pytest.mark.parametrize("size", BOLT_SIZES, ids=lambda size: size.name)
def test_each_row_is_in_proportion(size) -> None:  # noqa: ANN001
    """A slip of a digit in a table shows as a wrong order of sizes."""
    d = size.diameter_mm
    assert size.root_diameter_mm < size.stress_diameter_mm < size.pitch_diameter_mm < d
    assert d < size.hole_fine_mm < size.hole_medium_mm < size.hole_coarse_mm < 1.2 * d + 1
    assert d < size.washer_inner_mm < size.head_face_mm < size.head_across_flats_mm < size.head_mean_mm
    assert size.head_face_mm < size.washer_outer_mm < 2.6 * d
    assert 0.6 * d < size.head_height_mm < 0.75 * d
    assert size.sources["holes"]


def test_sizes_grow() -> None:
    metric = [size for size in BOLT_SIZES if size.system == "metric" and "x" not in size.name]
    for small, large in itertools.pairwise(metric):
        assert small.stress_area_mm2 < large.stress_area_mm2
        assert small.washer_outer_mm < large.washer_outer_mm


@pytest.mark.parametrize("grade", BOLT_GRADES, ids=lambda grade: grade.name)
def test_grades_are_in_order(grade) -> None:  # noqa: ANN001
    assert grade.proof_mpa <= grade.yield_mpa < grade.tensile_mpa
    assert grade.design_tensile_mpa <= grade.tensile_mpa
    assert grade.source


def test_a_metric_bolt_has_no_inch_grade() -> None:
    assert "read the marking" in grade_mismatch(bolt_size("M8"), bolt_grade("grade 5"))
    assert "read the marking" in grade_mismatch(bolt_size("1/4-20"), bolt_grade("8.8"))
    assert grade_mismatch(bolt_size("M8"), bolt_grade("8.8")) == ""
    assert grade_mismatch(bolt_size("1/4-20"), bolt_grade("A2-70")) == ""
