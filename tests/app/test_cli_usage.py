"""The commands, their options, and what is said to somebody who mistypes them."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from app.cli import window_command
from geometry.bolt_tables import BOLT_GRADES, BOLT_SIZES
from geometry.loads import Limits
from geometry.materials import MATERIALS
from solver.version import VERSION
from tests.app.running import Runner, lines_too_long

_ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("chek", "x.json"), "did you mean check?"),
        (("material",), "did you mean materials?"),
        (("zzz",), "there are: window, picture, check, report"),
        (("check", "x", "--jsn"), "There is no option --jsn; did you mean --json?"),
        (("check",), "check needs a bracket file"),
        (("report", "x.bracket.json"), "report needs a bracket file and a file to write"),
        (("report", "x.json", "-o", "x.pdf", "--size", "A0"), "'A0' is not one of 'A4', 'Letter'"),
        (("around",), "around needs a bracket file"),
        (("check", "x", "--units", "furlong"), "'furlong' is not one of 'mm', 'inch'"),
        (("check", "x", "--mesh"), "--mesh"),
        (("marlpit.bracket.json",), "There is no file marlpit.bracket.json here"),
        (("--nothing",), "There is no option --nothing"),
        (("schema", "brackets"), "'brackets' is not one of 'bracket', 'limits', 'record', 'profile'"),
    ],
)
def test_wrong_usage_is_64_with_a_sentence(cli: Runner, arguments: tuple[str, ...], words: str) -> None:
    outcome = cli.run(*arguments)
    assert outcome.code == 64
    assert words in " ".join(outcome.err.split())
    assert not outcome.out
    assert "Traceback" not in outcome.err


def test_no_command_and_a_file_alone_open_the_window(cli: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    shown: list[Path | None] = []
    monkeypatch.setattr(window_command, "open_window", lambda file: shown.append(file) or 0)
    file = cli.bracket_file("marlpit")
    assert [cli.run().code, cli.run(file).code, cli.run("window", file).code] == [0, 0, 0]
    assert shown == [None, file, file]


def test_help_and_version(cli: Runner) -> None:
    assert cli.run("--version").out == f"holdsquare {VERSION}\n"
    for arguments in (("--help",), ("check", "-h"), ("bolts", "--help")):
        outcome = cli.run(*arguments)
        assert outcome.code == 0
        assert "Usage:" in outcome.out
        assert not lines_too_long(outcome.out)


def test_tables_name_every_row_and_source(cli: Runner) -> None:
    materials, bolts = cli.run("materials").out, cli.run("bolts").out
    flat = " ".join(materials.split())
    assert all(m.name in flat and m.strength_source in flat for m in MATERIALS)
    assert all(s.name in bolts for s in BOLT_SIZES)
    assert all(g.name in bolts for g in BOLT_GRADES)
    assert "ISO 273" in bolts
    assert not lines_too_long(materials + bolts)


def test_tables_as_json(cli: Runner) -> None:
    materials = json.loads(cli.run("materials", "--json").out)
    bolts = json.loads(cli.run("bolts", "--json").out)
    s235 = materials["materials"][0]
    assert s235["name"] == "S235"
    assert s235["yield_mpa"][0] == {"up_to_mm": 16, "value": 235}
    assert [s["name"] for s in bolts["sizes"]] == [s.name for s in BOLT_SIZES]
    assert all(g["source"] for g in bolts["grades"])


def test_schemas(cli: Runner) -> None:
    bracket = json.loads(cli.run("schema").out)
    limits = json.loads(cli.run("schema", "limits").out)
    assert {"format", "version", "plates"} <= set(bracket["properties"])
    assert set(limits["properties"]) == set(Limits.model_fields)
    for kind, key in (("record", "check_list"), ("profile", "cautions")):
        assert key in json.loads(cli.run("schema", kind).out)["properties"]


def test_starting_loads_nothing_it_does_not_need() -> None:
    heavy = ("matplotlib", "vtk", "PySide6", "gmsh", "skfem", "scipy", "clarabel", "pint", "numpy")
    code = (
        "import sys\nfrom app.cli.main import main\nmain(['--help'])\n"
        f"print('loaded:', [m for m in {heavy!r} if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=_ROOT, capture_output=True, text=True, check=True, timeout=60
    )
    assert done.stdout.splitlines()[-1] == "loaded: []"


def test_a_reader_that_goes_away_is_no_error() -> None:
    command = (
        f"{sys.executable} -c 'from app.cli.main import main; raise SystemExit(main([\"schema\"]))' | head -1"
    )
    done = subprocess.run(
        ["bash", "-c", f"set -o pipefail; {command}"],
        cwd=_ROOT,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == 0
    assert done.stderr == ""
    assert done.stdout == "{\n"


def test_an_ascii_terminal_gets_plain_signs() -> None:
    code = "from app.cli.stamp import stamp\nprint(*stamp('pass', True), sep='\\n')"
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=_ROOT,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
        env={"PYTHONIOENCODING": "ascii"},
    )
    assert done.stdout.splitlines()[1] == "# PASS #"


@pytest.mark.parametrize(
    "command",
    [
        ("compare",),
        ("motion", "-o", "x.gif"),
        ("handout", "-o", "x.pdf"),
        ("questions", "-o", "x.pdf"),
        ("ladder", "--vary", "plate.thickness=3"),
        ("report", "-o", "x.pdf"),
    ],
)
def test_every_command_says_why_a_file_cannot_be_read(
    cli: Runner, tmp_path: Path, command: tuple[str, ...]
) -> None:
    (tmp_path / "x.bracket.json").write_text('{"a": 1}', encoding="utf-8")
    name, *options = [str(tmp_path / word) if word.startswith("x.") else word for word in command]
    outcome = cli.run(name, str(tmp_path / "x.bracket.json"), *options)
    assert outcome.code == 64
    assert "it does not say what it is; a bracket file holds" in " ".join(outcome.err.split())


def test_wrong_usage_of_a_command_leads_to_that_commands_own_help(cli: Runner) -> None:
    outcome = cli.run("paper", "--sheet", "proof", "-o", "x.pdf", "--arm", "10")
    assert outcome.code == 64
    assert "python3 app paper --help lists what there is" in " ".join(outcome.err.split())
    assert "python3 app --help" in " ".join(cli.run("--zzz").err.split())
