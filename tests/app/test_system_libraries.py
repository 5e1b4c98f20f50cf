"""Missing system libraries: found, named in one line, installed only where that may be done."""

from __future__ import annotations

import io
import sys

import pytest

from app import system_libraries


@pytest.fixture
def ran(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """Stand in for apt-get; two libraries are missing until it has run."""
    commands: list[list[str]] = []

    def run(command: list[str]) -> bool:
        commands.append(command)
        return True

    monkeypatch.setattr(system_libraries, "_run", run)
    monkeypatch.setattr(
        system_libraries,
        "_is_there",
        lambda name: bool(commands) or name not in {"libGLU.so.1", "libXft.so.2"},
    )
    monkeypatch.setattr(system_libraries.shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(sys, "platform", "linux")
    return commands


def test_nothing_missing_runs_nothing(ran: list[list[str]], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(system_libraries, "_is_there", lambda name: True)
    assert system_libraries.provide_libraries()
    assert ran == []


def test_root_installs_in_one_line(ran: list[list[str]], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(system_libraries.os, "geteuid", lambda: 0)
    assert system_libraries.provide_libraries()
    assert ran == [["apt-get", "install", "-y", "--no-install-recommends", "libglu1-mesa", "libxft2"]]


def test_package_lists_are_fetched_when_they_are_needed(
    ran: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    def run(command: list[str]) -> bool:
        ran.append(command)
        return len(ran) > 1

    monkeypatch.setattr(system_libraries, "_run", run)
    monkeypatch.setattr(system_libraries.os, "geteuid", lambda: 0)
    assert system_libraries.provide_libraries()
    assert [command[1] for command in ran] == ["install", "update", "install"]


@pytest.mark.parametrize(
    ("answer", "installs"), [("y\n", True), ("yes\n", True), ("\n", False), ("n\n", False)]
)
def test_a_person_is_asked(
    answer: str, installs: bool, ran: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(system_libraries.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(sys, "stdin", _Terminal(answer))
    screen = _Terminal()
    monkeypatch.setattr(sys, "stderr", screen)
    assert system_libraries.provide_libraries() is installs
    assert "libglu1-mesa libxft2" in screen.getvalue()
    assert [command[0] for command in ran] == (["sudo"] if installs else [])


def test_without_a_terminal_the_line_is_printed(
    ran: list[list[str]], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(system_libraries.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    assert not system_libraries.provide_libraries()
    assert ran == []
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "apt-get install -y --no-install-recommends libglu1-mesa libxft2" in said


def test_another_system_is_told_the_libraries(
    ran: list[list[str]], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(system_libraries.shutil, "which", lambda name: None)
    assert not system_libraries.provide_libraries()
    assert "libGLU.so.1, libXft.so.2" in capsys.readouterr().err
    monkeypatch.setattr(sys, "platform", "win32")
    assert system_libraries.missing_packages() == []


def test_a_bundle_asks_only_for_what_it_cannot_carry(
    ran: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(system_libraries, "_is_there", lambda name: False)
    assert system_libraries.missing_packages() == list(system_libraries.LIBRARIES)
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    missing = system_libraries.missing_packages()
    assert missing == ["libgl1", "libegl1", "libopengl0", "libgl1-mesa-dri", "libxcb1"]
    assert system_libraries.how_to_get(missing[2:]).endswith("recommends libopengl0 libgl1-mesa-dri libxcb1")
    monkeypatch.setattr(system_libraries.shutil, "which", lambda name: None)
    assert "libOpenGL.so.0, dri/swrast_dri.so, libxcb.so.1" in system_libraries.how_to_get(missing[2:])


def test_a_library_that_is_not_there_is_missed() -> None:
    assert not system_libraries._is_there("libholdsquare-no-such.so.1")
    assert not system_libraries._is_there("dri/no_such_dri.so")


class _Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True
