from __future__ import annotations

from pathlib import Path

from tests.app.riglog.invented import bracket_log_text, couple_log_text

SAMPLES = Path(__file__).parents[3] / "sample_brackets"


def test_the_samples_are_what_the_model_makes() -> None:
    for name, text in (("couple", couple_log_text()), ("bracket", bracket_log_text())):
        content = (SAMPLES / f"marlpit_{name}_log.csv").read_bytes()
        assert content.decode() == text
        assert len(content) < 300_000


def test_another_seed_is_another_log() -> None:
    assert couple_log_text(seed=1) != couple_log_text(seed=2)
    assert bracket_log_text(seed=1) == bracket_log_text(seed=1)
