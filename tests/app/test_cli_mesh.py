"""`check --mesh`: where the mesh goes, and where it does not."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest

from app.cli.mesh_file import mesh_paths
from tests.app.example_results import example_field, example_results
from tests.app.running import Runner


def test_one_plate_takes_the_name_given(cli: Runner) -> None:
    cli.answer(example_results())
    out = cli.folder / "out.vtu"
    outcome = cli.run("check", cli.bracket_file(), "--mesh", out)
    assert outcome.code == 0
    assert out.read_bytes().lstrip().startswith(b"<")
    assert "out.vtu" in outcome.err.replace("\n", "")


def test_several_plates_take_their_own_names(cli: Runner) -> None:
    plates = (example_field("front"), example_field("../../etc/front"))
    cli.answer(replace(example_results(), plates=plates))
    assert cli.run("check", cli.bracket_file(), "--mesh", cli.folder / "out.vtu").code == 0
    assert sorted(p.name for p in cli.folder.glob("*.vtu")) == ["out-etc_front.vtu", "out-front.vtu"]


def test_names_never_meet_or_leave_the_directory() -> None:
    paths = mesh_paths(Path("d/out.vtu"), ("a b", "a/b", "A b", "..", "/"))
    assert len({str(p).casefold() for p in paths}) == 5
    assert all(p.parent == Path("d") for p in paths)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("out.stl", "such as"),
        ("marlpit.bracket.json", "such as"),
        ("nowhere/out.vtu", "make it first"),
        ("folder.vtu", "is a folder"),
    ],
)
def test_a_bad_place_is_refused_before_the_analysis(cli: Runner, name: str, words: str) -> None:
    (cli.folder / "folder.vtu").mkdir()
    cli.answer(example_results())
    path = cli.bracket_file()
    before = path.read_bytes()
    outcome = cli.run("check", path, "--mesh", name)
    assert outcome.code == 64
    assert words in " ".join(outcome.err.split())
    assert not cli.asked
    assert path.read_bytes() == before


@pytest.mark.skipif(os.geteuid() == 0 if hasattr(os, "geteuid") else True, reason="root may write anywhere")
def test_a_directory_of_somebody_else_is_refused(cli: Runner) -> None:
    closed = cli.folder / "closed"
    closed.mkdir(mode=0o500)
    cli.answer(example_results())
    assert cli.run("check", cli.bracket_file(), "--mesh", closed / "out.vtu").code == 64


def test_one_mesh_goes_with_one_file(cli: Runner) -> None:
    cli.answer(example_results())
    outcome = cli.run("check", cli.bracket_file("a"), cli.bracket_file("b"), "--mesh", "out.vtu")
    assert outcome.code == 64
    assert not cli.asked


def test_nothing_solved_writes_no_mesh(cli: Runner) -> None:
    cli.answer(replace(example_results("no verdict"), plates=()))
    out = cli.folder / "out.vtu"
    outcome = cli.run("check", cli.bracket_file(), "--mesh", out)
    assert outcome.code == 2
    assert not out.exists()
    assert "nothing was solved" in " ".join(outcome.err.split())
