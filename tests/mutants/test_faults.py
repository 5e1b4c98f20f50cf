"""The faults themselves, on files of a few lines: where one may be put, and what the file says with it."""

from __future__ import annotations

from tests.mutants.faults import Fault, faults_of, sample

AREA = '''"""Twice 3 > 2."""

FACTOR: int = 2


def area(width: float, deep: bool = False) -> float:
    """Return 1 + 1."""
    if width < 0.5:
        raise ValueError(f"{width + 1} is below {0.5}")
    assert width < 100
    return FACTOR * width  # 2 µm * 3
'''


def _changes(text: str) -> set[tuple[str, str]]:
    return {(f.before, f.after) for f in faults_of("area.py", text)}


def test_words_hints_assertions_and_what_is_raised_are_left_alone() -> None:
    befores = {f.before for f in faults_of("area.py", AREA)}
    assert befores == {"2", "False", "width < 0.5", "0.5", "FACTOR * width"}


def test_what_is_changed() -> None:
    assert {
        ("2", "(4)"),
        ("2", "(3)"),
        ("2", "(-2)"),
        ("False", "(True)"),
        ("width < 0.5", "(width <= 0.5)"),
        ("width < 0.5", "(width >= 0.5)"),
        ("width < 0.5", "(True)"),
        ("FACTOR * width", "(FACTOR / width)"),
        ("FACTOR * width", "(None)"),
    } <= _changes(AREA)


def test_other_kinds() -> None:
    assert {
        ("a and b", "(a or b)"),
        ("not a", "(a)"),
        ("max", "(min)"),
        ("np.argmin", "(np.argmax)"),
        ("n", "(n + 1)"),
        ("a is None", "(a is not None)"),
        ("c += 1.5", "c -= 1.5"),
    } <= _changes(
        "x = a and b\ny = not a\nz = max(a, b)\nw = np.argmin(a)\nv = a[:n]\nu = a is None\nc += 1.5\n"
    )


def test_the_rest_of_the_file_stays_to_the_letter() -> None:
    for fault in faults_of("area.py", AREA):
        changed = fault.put_in(AREA)
        compile(changed, "area.py", "exec")
        assert changed != AREA
        raw, tail = AREA.encode(), len(AREA.encode()) - fault.end
        assert changed.encode()[: fault.start] == raw[: fault.start]
        assert changed.encode()[len(changed.encode()) - tail :] == raw[fault.end :]


def test_a_fault_in_a_body_names_its_outermost_function_and_a_default_does_not() -> None:
    text = (
        "class A:\n    size = 1\n\n    def f(self, n=3):\n"
        "        def g():\n            return n + 7\n        return g\n"
    )
    of = {f.before: f for f in faults_of("a.py", text)}
    assert (of["1"].scope, of["1"].function) == ("A", "")
    assert (of["3"].scope, of["3"].function) == ("A.f", "")
    assert (of["n + 7"].scope, of["n + 7"].function) == ("A.f.g", "A.f")


def test_lots_fall_the_same_way_and_take_every_function_before_one_twice() -> None:
    text = "def short():\n    return 1\n\n\ndef long():\n    return 2 + 3 + 4 + 5 + 6\n"
    faults = faults_of("a.py", text)
    drawn = sample(faults, 2, 7)
    assert drawn == sample(faults, 2, 7)
    assert {f.scope for f in drawn} == {"short", "long"}
    assert len(set(_names(sample(faults, 999, 7)))) == len(faults)


def _names(faults: list[Fault]) -> list[str]:
    return [fault.name for fault in faults]
