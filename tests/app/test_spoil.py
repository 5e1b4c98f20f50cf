"""The proof that reference tests can fail, tried on small suites of its own: dead tests must be found."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.set_up import ROOT
from tests import spoil, table
from tests.validation import reference

SOURCES = {"source": "a table (published)", "name": "value"}


def test_agreement_within_tolerance(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reference, "comparisons", [])
    reference.agrees(101.9, 100.0, 0.02, **SOURCES)
    reference.agrees(-98.1, -100.0, 0.02, **SOURCES)
    reference.agrees(0.01, 0.0, 0.02, scale=1.0, **SOURCES)
    reference.lies_between(1.01, 1.0, 1.05, **SOURCES)
    differences = [one.difference for one in reference.comparisons]
    assert differences[:3] == pytest.approx([0.019, 0.019, 0.01])
    assert differences[3] is None


@pytest.mark.parametrize(
    ("computed", "published", "scale"),
    [
        (102.1, 100.0, None),
        (97.9, 100.0, None),
        (-100.0, 100.0, None),
        (0.03, 0.0, 1.0),
        (float("nan"), 1.0, None),
    ],
)
def test_disagreement(
    computed: float, published: float, scale: float | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reference, "comparisons", [])
    with pytest.raises(AssertionError, match="value: computed"):
        reference.agrees(computed, published, 0.02, scale=scale, **SOURCES)


@pytest.mark.parametrize("computed", [0.99, 1.06, float("nan")])
def test_outside_bounds(computed: float, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reference, "comparisons", [])
    with pytest.raises(AssertionError, match="published between"):
        reference.lies_between(computed, 1.0, 1.05, **SOURCES)


def test_a_test_that_could_not_fail_is_refused() -> None:
    with pytest.raises(ValueError, match=r"from 0 to 0.05"):
        reference.agrees(1.0, 1.0, 0.06, **SOURCES)
    with pytest.raises(ValueError, match="give scale="):
        reference.agrees(0.0, 0.0, 0.01, **SOURCES)
    with pytest.raises(ValueError, match="at most 10 % apart"):
        reference.lies_between(1.0, 0.9, 1.1, **SOURCES)
    with pytest.raises(ValueError, match="needs a source"):
        reference.agrees(1.0, 1.0, 0.01, source=" ", name="value")


SUITE = """
import numpy as np
import pytest
from tests.validation.reference import agrees, lies_between
from solver.beam import beam_stiffness, ring_section

pytestmark = pytest.mark.reference

def stretch():
    section = ring_section(20.0, 10.0)
    stiffness = beam_stiffness(section, 100.0, 210_000.0, 0.3, np.eye(3))
    return 1.0 / stiffness[2, 2]

EXACT = 100.0 / (210_000.0 * np.pi / 4.0 * (20.0**2 - 10.0**2))

def test_solver():
    agrees(stretch(), EXACT, 0.02, source="bar (closed form)", name="stretch")

@pytest.mark.parametrize("error", [0.99, 1.01])
def test_loose(error):
    agrees(stretch(), EXACT * error, 0.05, source="bar (closed form)", name="stretch")

def test_table():
    agrees(36.6, 36.61, 0.001, source="bolts (published)", name="area of M8 | mm2")

def test_first_proven_second_by_value():
    agrees(stretch(), EXACT, 0.02, source="bar (closed form)", name="stretch")
    agrees(3.0, 3.0, 0.01, source="count (closed form)", name="three")

def test_zero():
    agrees(0.0, 0.0, 0.01, scale=1.0, source="count (closed form)", name="none")

def test_bounds():
    lies_between(1.0, 0.97, 1.03, source="bounds (closed form)", name="one")
"""

DEAD = """
def test_dead():
    assert stretch() > 0.0

def test_alive_without_a_comparison():
    assert abs(stretch() / EXACT - 1.0) < 0.01

def test_breaks_when_spoilt():
    if abs(stretch() / EXACT - 1.0) > 0.01:
        raise RuntimeError("an error is not a failed comparison")
"""

WRONG = """
def test_wrong():
    agrees(2.0, 1.0, 0.02, source="bar (closed form)", name="wrong")
"""


def test_every_kind_of_live_test_is_seen_to_fail(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert spoil.run_spoilt([], _suite(tmp_path, SUITE)) == 0
    said = capsys.readouterr().out
    # Softer: the tight ones, and the loose one already on the high side; stiffer: the other loose one.
    assert "softer: 3 of 8" in said
    assert "stiffer: 1 of 5" in said
    assert "8 passed, 0 failed" in said
    listed = said.split("Seen only where the computed value itself was changed:")[1]
    assert all(
        f"{name}: 1" in listed for name in ("test_table", "test_zero", "test_bounds", "second_by_value")
    )
    assert "test_solver" not in listed
    assert "test_loose" not in listed


def test_dead_and_wrong_tests_are_found(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert spoil.run_spoilt([], _suite(tmp_path, SUITE + DEAD + WRONG)) == 1
    said, dead = capsys.readouterr().out.split("DEAD: agreed although spoilt in every way:")
    assert "test_wrong (failed)" in said
    assert "test_dead" in dead
    assert "test_breaks_when_spoilt" in dead
    assert "test_alive" not in dead
    assert "test_solver" not in dead


def test_table_comes_from_a_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert table.print_table([], _suite(tmp_path, SUITE)) == 0
    rows = capsys.readouterr().out.splitlines()
    assert rows[0] == "| source | quantity | published | computed | difference |"
    assert "| bolts (published) | area of M8 \\| mm2 | 36.61 | 36.6 | -0.03 % |" in rows
    assert "| bounds (closed form) | one | 0.97 to 1.03 | 1 | within |" in rows
    assert len(rows) == 2 + 8


def test_no_table_from_a_failing_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert table.print_table([], _suite(tmp_path, SUITE + WRONG)) == 1
    answer = capsys.readouterr()
    assert answer.out == ""
    assert "test_wrong" in answer.err


def _suite(folder: Path, text: str) -> Path:
    """Make a folder of tests that runs with the settings of ours."""
    (folder / "pytest.ini").write_text("[pytest]\nmarkers = reference\n", encoding="utf-8")
    settings = f"import sys\nsys.path.insert(0, {str(ROOT)!r})\nfrom tests.conftest import *\n"
    (folder / "conftest.py").write_text(settings, encoding="utf-8")
    (folder / "test_small_suite.py").write_text(text, encoding="utf-8")
    return folder
