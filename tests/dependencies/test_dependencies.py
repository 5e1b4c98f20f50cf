"""What the program needs: found on every system, under licences that go with its own, wheels told right."""

from __future__ import annotations

import subprocess
from email import message_from_string

import pytest

from tests.dependencies import command, packages, wheels
from tests.dependencies.command import UNREACHED, main, table
from tests.dependencies.licences import goes
from tests.dependencies.packages import PROGRAM, SYSTEMS, About, installed, licence_of, needed
from tests.dependencies.wheels import Wheels, wheels_in, wheels_of

FILES = (
    "thing-1.0-cp311-cp311-win_amd64.whl",
    "thing-1.0-cp312-cp312-win_amd64.whl",
    "thing-1.0-cp314-cp314t-win_amd64.whl",  # without the lock: another Python than the ordinary one
    "thing-1.0-cp311-abi3-macosx_13_0_universal2.whl",
    "thing-1.0-cp313-cp313-manylinux_2_34_x86_64.whl",
    "thing-1.0-cp313-cp313-manylinux_2_17_x86_64.manylinux2014_x86_64.whl",
    "thing-1.0-cp311-cp311-musllinux_1_2_aarch64.whl",
    "thing-1.0-cp39-abi3-manylinux2014_aarch64.whl",
    "thing-0.9-py3-none-any.whl",
    "not a wheel.whl",
)


def test_wheels_are_told_by_their_names() -> None:
    """Names as PEP 425 and PEP 600 have them; cp39-abi3 is for every later Python too."""
    found = wheels_in(FILES, "1.0")
    assert found.pythons == {
        "Windows x86-64": ("3.11", "3.12"),
        "macOS arm64": ("3.11", "3.12", "3.13", "3.14"),
        "macOS x86-64": ("3.11", "3.12", "3.13", "3.14"),
        "Linux x86-64": ("3.13",),
        "Linux aarch64": ("3.11", "3.12", "3.13", "3.14"),
    }
    assert [found.on(system) for system in SYSTEMS] == ["3.11, 3.12", "all", "all", "3.13", "all"]
    assert found.oldest["macOS arm64"] == "13.0"
    assert found.oldest["Linux x86-64"] == "2.17"
    assert not found.everywhere
    assert wheels_in(FILES, "0.9").everywhere
    assert wheels_in(FILES, "0.9").oldest["macOS arm64"] == ""
    assert wheels_in(FILES, "2.0").on("Linux aarch64") == "NONE"


def test_wheels_are_read_out_of_what_pip_says(monkeypatch: pytest.MonkeyPatch) -> None:
    said = (
        "  Skipping link: none of the wheel's tags (cp311-cp311-win_amd64) are compatible: "
        "where://of/thing-1.0%2Blocal-cp311-cp311-win_amd64.whl (from where://index/thing/)\n"
        "  Found link where://of/thing-1.0.tar.gz (from where://index/thing/), version: 1.0\n"
    )
    monkeypatch.setattr(wheels, "run_pip", lambda *_: subprocess.CompletedProcess([], 0, said, ""))
    found = wheels_of("thing", "1.0+local")
    assert found is not None
    assert found.on("Windows x86-64") == "3.11"
    monkeypatch.setattr(wheels, "run_pip", lambda *_: subprocess.CompletedProcess([], 1, "", "ERROR: none"))
    assert wheels_of("thing", "1.0") is None


@pytest.mark.parametrize(
    ("said", "licence"),
    [
        ("License-Expression: MIT\nLicense: text", "MIT"),
        (
            "Classifier: License :: OSI Approved\nClassifier: License :: OSI Approved :: BSD License",
            "BSD License",
        ),
        ("License: Some licence\n  with a text below it", "Some licence with a text below it"),
        (
            "License: Thing 1\n  it under the terms of the GNU General Public License as published by\n"
            "  the Free Software Foundation; either version 3 of the License, or\n"
            "  (at your option) any later version.",
            "GPL-3.0-or-later",
        ),
        ("Name: thing", "not said"),
    ],
)
def test_a_licence_is_told_in_few_words(said: str, licence: str) -> None:
    assert licence_of(message_from_string(said)) == licence


@pytest.mark.parametrize(
    ("licence", "may"),
    [
        ("MIT", True),
        ("GNU General Public License v2 or later (GPLv2+)", True),
        ("LGPL-3.0-only OR GPL-2.0-only OR GPL-3.0-only", True),
        ("BSD-3-Clause AND 0BSD AND MIT AND Zlib AND CC0-1.0", True),
        ("Apache-2.0 OR BSD-2-Clause", True),
        ("GPL-2.0-only", False),
        ("MIT AND Other/Proprietary License", False),
        ("Free for non-commercial use", False),
        ("not said", False),
        ("", False),
    ],
)
def test_licences_that_go_with_the_programs(licence: str, may: bool) -> None:
    assert goes(licence) is may


def test_every_licence_goes_with_the_programs() -> None:
    found = [package.about for package in needed(installed)]
    assert len(found) > 40
    assert [about for about in found if about.installed and not goes(about.licence)] == []


def test_what_only_another_system_needs_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    known = {
        "thing": About(
            "thing", "1", "MIT", ('winner; sys_platform == "win32"', 'extra1; extra == "more"', "base")
        ),
        "winner": About("winner", "2", "MIT", ("thing",)),  # in a ring
        "extra1": About("extra1", "3", "MIT", ()),
        "base": About("base", "4", "MIT", ('old; python_version < "3.11"', 'new; python_version >= "3.14"')),
        "new": About("new", "5", "MIT", ()),
    }
    monkeypatch.setattr(packages, "_parts", lambda: {PROGRAM: ["thing>=1"], "test": ["Thing[more]", "gone"]})
    found = {package.about.name: package for package in needed(lambda name: known.get(name.lower()))}
    assert sorted(found) == ["base", "extra1", "gone", "new", "thing", "winner"]
    assert found["winner"].systems == ("Windows x86-64",)
    assert found["thing"].parts == (PROGRAM, "test")
    assert found["extra1"].parts == ("test",)
    assert found["extra1"].systems == tuple(SYSTEMS)
    assert not found["gone"].about.installed


def test_offline_it_says_so(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    asked: list[str] = []

    def none(name: str, _version: str) -> Wheels | None:
        asked.append(name)
        return None

    monkeypatch.setattr(command, "wheels_of", none)
    monkeypatch.setattr(command, "installed_or_asked", installed)
    assert main([]) == UNREACHED
    said = capsys.readouterr()
    assert "The package index cannot be reached" in said.err
    assert "| numpy | " in said.out
    assert "Windows" not in said.out
    assert len(asked) == 1


def test_the_table_says_where_there_is_none() -> None:
    about = About("thing", "1.0", "MIT", ())
    lines = table(
        [packages.Package(about, (PROGRAM,), tuple(SYSTEMS)[1:])], {"thing": wheels_in(FILES, "1.0")}
    )
    assert lines[2] == (
        "| thing | 1.0 | MIT | - | all | all | 3.13 | all | macOS 13.0; glibc 2.17 | program |"
    )
    pure = packages.Package(About("plain", "0.9", "ISC", ()), ("test",), tuple(SYSTEMS))
    both = [packages.Package(about, (PROGRAM,), tuple(SYSTEMS)), pure]
    known = {"thing": wheels_in(FILES, "1.0"), "plain": wheels_in(FILES, "0.9")}
    assert len(table(both, known)) == 6
    short = table(both, known, short=True)
    assert len(short) == 7
    assert short[-1] == "One wheel for every system and Python: plain 0.9 (ISC; test)."
    assert "://" not in "".join(lines)
