"""`sensitivity`: what is doubted about the file counts in every verdict that it tells."""

from __future__ import annotations

import json

import pytest

from geometry.file_writing import bracket_text
from geometry.loads import StatedCouple
from tests.app.running import Runner
from tests.brackets import one_piece


@pytest.mark.long
def test_an_unknown_key_bars_every_pass(cli: Runner) -> None:
    bracket = one_piece()
    bracket = bracket.but(loads=bracket.loads.but(couple=StatedCouple(couple_nm=12), pull_n=200))
    written = json.loads(bracket_text(bracket))
    sound, doubted = cli.folder / "sound.bracket.json", cli.folder / "doubted.bracket.json"
    sound.write_text(json.dumps(written), encoding="utf-8")
    doubted.write_text(json.dumps(written | {"loadz": 1}), encoding="utf-8")
    assert cli.run("check", str(sound)).code == 0
    answer = cli.run("sensitivity", str(doubted), "--json")
    told = json.loads(answer.out)
    assert answer.code == 2
    assert told["verdict"] == "no verdict"
    assert len(told["trials"]) > 5
    assert {t["verdict"] for t in told["trials"]} <= {"no verdict", "fail"}
    assert {t["verdict"] for t in told["turnings"]} <= {"no verdict", "fail"}
    # Only the verdict is barred, no figure.
    assert all(t["holds_to_nm"] > 0 for t in told["trials"] if t["verdict"] == "no verdict")
