"""A small share of the trial of strangers' files, and what holds the trial itself up."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.set_up import ROOT
from tests.fuzz import watch
from tests.fuzz.again import cut_down
from tests.fuzz.child import dice_of
from tests.fuzz.kinds import KINDS
from tests.fuzz.promises import BrokenPromiseError, clear, still_cells

SEED = 7
SHARES = {
    "bracket": 40, "SVG drawing": 50, "DXF drawing": 30, "picture": 30, "rig log": 40, "register list": 40,
    "register": 20, "record": 30, "limits, profile": 20, "report": 19,
}  # fmt: skip


@pytest.mark.parametrize(("name", "count"), SHARES.items())
def test_a_share_of_each_kind(name: str, count: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kind = KINDS[name]
    out = tmp_path / "out"
    out.mkdir()
    monkeypatch.setenv("HOLDSQUARE_DATA", str(out))
    outcomes = []
    for number in range(1, count + 1):
        path = tmp_path / f"case{kind.suffix}"
        path.write_bytes(kind.case(dice_of(SEED, name, number), kind.seeds()))
        outcomes.append(kind.tried(path, out, number))
    assert "refused" in outcomes
    assert {p.name for p in tmp_path.iterdir()} == {"out", path.name}


def test_a_case_is_the_same_whenever_it_is_made() -> None:
    for name, kind in KINDS.items():
        if name == "report":
            continue  # its sample carries a time
        made = [kind.case(dice_of(SEED, name, 3), kind.seeds()) for _ in range(2)]
        assert made[0] == made[1], name


_WATCHED = """
import os, socket, subprocess, sys
from pathlib import Path
from tests.fuzz.watch import Watch
folder = Path(sys.argv[1])
seen = Watch(folder, folder / "cache")
seen.on = True
(folder / "inside").write_text("x")
Path("/proc/self/status").read_text()
assert not seen.seen, seen.seen
for wrong in (
    lambda: (folder.parent / "outside").write_text("x"),
    lambda: (folder / ".." / "outside").write_text("x"),
    lambda: Path("/etc/hostname").read_text(),
    lambda: socket.socket(),
    lambda: subprocess.run(["true"]),
    lambda: os.system("true"),
    lambda: os.rename(folder / "inside", folder.parent / "outside"),
):
    seen.seen.clear()
    try:
        wrong()
    except OSError:
        pass
    assert seen.seen, wrong
"""


def test_the_watch_sees_what_is_forbidden(tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    answer = subprocess.run(
        [sys.executable, "-c", _WATCHED, str(inner)], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert answer.returncode == 0, answer.stderr


def test_the_peak_of_memory_is_seen_and_forgotten() -> None:
    watch.forget_peak()
    before = watch.peak_bytes()
    held = b"x" * 80_000_000
    assert watch.peak_bytes() > before + 60_000_000
    del held
    watch.forget_peak()
    assert watch.peak_bytes() < before + 60_000_000


def test_promises_are_held() -> None:
    clear(["A file of this kind: do that."])
    for words in ("", "a\x1b[31m", "x" * 5_000, "Traceback (most recent call last)"):
        with pytest.raises(BrokenPromiseError):
            clear([words])
    still_cells("a,'=1,-5.5,+3,1e9\r\n")
    for cell in ("=1", "@x", "-x", '"\t=1"', "\uff1d1"):
        with pytest.raises(BrokenPromiseError):
            still_cells(f"a,{cell}\r\n")


def test_a_file_is_cut_down_to_what_fails() -> None:
    content = b"a" * 300 + b"NEEDLE" + b"b" * 500
    assert cut_down(content, lambda one: b"NEEDLE" in one) == b"NEEDLE"


@pytest.mark.long
def test_the_command_tries_keeps_and_goes_on(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "tests", "fuzz", "--kind", "limits, profile", "-o", str(tmp_path)]
    environment = os.environ | {"OPENBLAS_NUM_THREADS": "1"}
    for count in ("40", "60"):
        answer = subprocess.run(
            [*command, "--count", count],
            cwd=ROOT,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )
        assert answer.returncode == 0, answer.stderr
        assert f"| limits, profile | {count} |" in answer.stdout
    assert json.loads((tmp_path / "tallies.json").read_text())[0]["cases"] == 60
