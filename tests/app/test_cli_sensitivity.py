"""`sensitivity`: what is doubted about the file counts in every verdict that it tells."""

from __future__ import annotations

import json

from geometry.file_writing import bracket_text
from geometry.loads import StatedCouple
from tests.app.running import Runner
from tests.brackets import one_piece


def test_an_unknown_key_bars_every_pass(cli: Runner) -> None:
    bracket = one_piece()
    bracket = bracket.but(loads=bracket.loads.but(couple=StatedCouple(couple_nm=12), pull_n=200))
    written = json.loads(bracket_text(bracket))
    sound, doubted = cli.folder / "sound.bracket.json", cli.folder / "doubted.bracket.json"
    sound.write_text(json.dumps(written), encoding="utf-8")
    doubted.write_text(json.dumps(written | {"loadz": 1}), encoding="utf-8")
    before, after = (cli.run("sensitivity", str(path), "--json") for path in (sound, doubted))
    one, other = json.loads(before.out), json.loads(after.out)
    assert (before.code, after.code) == (0, 2)
    assert one["verdict"] == "pass"
    assert "pass" in {t["verdict"] for t in one["trials"]}
    assert other["verdict"] == "no verdict"
    assert {t["verdict"] for t in other["trials"]} <= {"no verdict", "fail"}
    assert {t["verdict"] for t in other["turnings"]} <= {"no verdict", "fail"}
    pairs = [(t["input"], t["tried"], t["holds_to_nm"]) for t in one["trials"]]
    assert sorted(pairs, key=str) == sorted(
        [(t["input"], t["tried"], t["holds_to_nm"]) for t in other["trials"]], key=str
    )
