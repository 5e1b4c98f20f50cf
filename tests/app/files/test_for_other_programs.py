"""Programs of the system started from a bundle."""

from __future__ import annotations

import sys

import pytest

from app.files.for_other_programs import for_other_programs

_OF_BUNDLE = {"LD_LIBRARY_PATH": "/bundle/program", "HOME": "/home/ada"}


def test_outside_a_bundle_nothing_changes(monkeypatch: pytest.MonkeyPatch) -> None:
    assert for_other_programs(_OF_BUNDLE) == _OF_BUNDLE
    monkeypatch.setenv("HOLDSQUARE_TRACE", "1")
    assert for_other_programs()["HOLDSQUARE_TRACE"] == "1"


@pytest.mark.parametrize("before", [None, "/opt/lib"])
def test_in_a_bundle_the_libraries_are_the_systems(
    before: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    kept = {} if before is None else {"LD_LIBRARY_PATH_ORIG": before}
    found = for_other_programs({**_OF_BUNDLE, **kept})
    assert found == {"HOME": "/home/ada", **({} if before is None else {"LD_LIBRARY_PATH": before})}
