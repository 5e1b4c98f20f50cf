"""The notes: numbered sentences of a bracket whose numbers are fields. No Qt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from app.window.lists.column_lines import column_line, shaft_joint_lines, wheel_line
from app.window.lists.couple_line import couple_line
from app.window.lists.field import Drafts, Field, Kind, Line, Path, Piece
from app.window.lists.fit_up_line import fit_up_line
from app.window.lists.off_default import off_default
from app.window.lists.other_load_lines import other_load_lines
from app.window.lists.setting import ENGINE_PARTS
from app.window.lists.stays import stay_pieces
from app.window.lists.weld_rows import weld_lines
from app.wording.verdict_words import couple_words, limit_words
from geometry.bracket import Bracket
from geometry.fixing import USUAL_FACE_FRICTION, USUAL_THREAD_FRICTION, WRENCH_SCATTER, BarEnd
from geometry.loads import Fatigue, Limits
from geometry.plate import CutBy, Plate
from geometry.sheet_tolerance import usual_tolerance_of

NO_DRAFTS = Drafts()


def note_lines(bracket: Bracket, drafts: Drafts = NO_DRAFTS) -> tuple[Line, ...]:
    """Return the notes in the order they are numbered.

    `drafts` has what was typed for parts that are not there yet.
    """
    lines = [
        couple_line(bracket),
        column_line(bracket, drafts),
        wheel_line(bracket, drafts),
        _weight_line(bracket),
        *_face_lines(bracket),
        *_bar_lines(bracket, drafts),
        *(_anchor_line(a.name, a.word) for a in bracket.anchors),
        *weld_lines(bracket),
        *shaft_joint_lines(bracket),
        *_extra_lines(bracket),
        *other_load_lines(bracket),
        *_edge_lines(bracket),
        _life_line(bracket),
        _engine_line(bracket, drafts),
        fit_up_line(bracket),
        *_limit_lines(bracket),
        *_claim_lines(bracket),
        Line(
            "note", ("Remark: ", Field((("note",),), "remark", bracket.note or "", "words", instead="none"))
        ),
    ]
    return tuple(Line(line.key, line.pieces, number) for number, line in enumerate(lines, start=1))


def _weight_line(bracket: Bracket) -> Line:
    rake, weight = bracket.rake_deg, bracket.loads.weight_g
    usual, looser = off_default(weight, 3.0, higher_is_looser=False)
    return Line(
        "weight",
        (
            "Shaft rises ",
            Field((("rake_deg",),), "rake of the shaft", rake, unit="deg", blank=rake is None),
            " toward the driver; weight counts ",
            Field((("loads", "weight_g"),), "weight multiple", weight, "number", usual=usual, looser=looser),
            " times, each way.",
        ),
    )


def _face_lines(bracket: Bracket) -> Iterator[Line]:
    """Yield the friction that bolts share: one field sets it for all."""
    if not bracket.bolts:
        return
    face = _of_all(
        bracket, "face_friction", "friction of clamped faces", "number", USUAL_FACE_FRICTION, higher=True
    )
    thread = _of_all(
        bracket, "thread_friction", "friction in threads", "number", USUAL_THREAD_FRICTION, higher=None
    )
    scatter = _of_all(bracket, "scatter", "preload scatter", "share", WRENCH_SCATTER, higher=False)
    yield Line(
        "faces",
        (
            "Faces bare or painted, friction ",
            face,
            "; threads ",
            thread,
            "; preload within ",
            scatter,
            " of what the torque gives.",
        ),
    )


def _of_all(
    bracket: Bracket, name: str, spoken: str, kind: str, default: float, *, higher: bool | None
) -> Field:
    values = [getattr(bolt, name) for bolt in bracket.bolts]
    known = [value for value in values if value is not None]
    varies = len(set(values)) > 1
    blank = None in values and not varies
    worst = default
    if known:
        worst = max(known, key=lambda v: abs(v - default))
    usual, looser = off_default(worst, default, higher_is_looser=higher, share=kind == "share")
    return Field(
        tuple(("bolts", bolt.name, name) for bolt in bracket.bolts),
        f"{spoken}, all bolts",
        values[0],
        kind,  # type: ignore[arg-type]
        blank=blank,
        varies=varies,
        usual=usual,
        looser=looser,
    )


END_KINDS = ("welded", "bolted flange", "pinned", "stiffness", "free")


def _bar_lines(bracket: Bracket, drafts: Drafts) -> Iterator[Line]:
    bar = bracket.dash_bar
    if bar is None:
        return
    pieces: list[Piece] = ["Dash bar: "]
    for index, end in enumerate(bar.ends):
        pieces += ["; other end "] if index else ["one end "]
        pieces += end_pieces(index, end)
    yield Line("bar", (*pieces, *stay_pieces(bar, drafts), "."))


def end_pieces(index: int, end: BarEnd) -> list[Piece]:
    """Return how one end of the dash bar is held and who has seen it."""
    path: Path = ("dash_bar", "ends", index)
    word = ("first", "second")[index]
    held = Field(((*path, "kind"),), f"dash bar, {word} end", end.kind, "choice", choices=END_KINDS)
    pieces: list[Piece] = [held]
    if end.kind == "stiffness":
        value = end.bending_nm_per_deg
        given = Field(
            ((*path, "bending_nm_per_deg"),),
            f"bending stiffness of the dash bar's {word} end",
            value,
            "range",
            "N.m/deg",
            blank=value is None,
        )
        pieces += [" ", given]
    if end.kind != "free":
        seen = Field(
            ((*path, "seen_by"),),
            f"who has seen the dash bar's {word} end",
            end.seen_by,
            "words",
            instead="nobody named",
            may_be_empty=True,
        )
        pieces += [", seen by ", seen]
    return pieces


def _anchor_line(name: str, word: str) -> Line:
    field = Field((("anchors", name, "word"),), f"who says that anchor {name} is immovable", word, "words")
    return Line(f"anchor {name}", (f"Anchor {name} does not move: ", field))


def _extra_lines(bracket: Bracket) -> Iterator[Line]:
    for extra in bracket.loads.extra:
        path: Path = ("loads", "extra", extra.name)
        pieces: list[Piece] = [f"Also {extra.name}, both ways: couple "]
        pieces.append(Field(((*path, "couple_nm"),), f"couple of {extra.name}", extra.couple_nm, unit="N.m"))
        for what, values, unit in (
            ("force", extra.force_n, "N"),
            ("at", extra.at_mm, "mm"),
        ):
            name = "force_n" if what == "force" else "at_mm"
            for axis, value in enumerate(values):
                pieces.append(f"; {what} x " if axis == 0 else (" y ", " z ")[axis - 1])
                spoken = f"{what} of {extra.name} along {'xyz'[axis]}"
                pieces.append(Field(((*path, name, axis),), spoken, value, unit=unit))
        yield Line(f"extra {extra.name}", (*pieces, "."))


def _edge_lines(bracket: Bracket) -> Iterator[Line]:
    """Yield how the edges of plates are cut: it decides how many reversals they bear."""
    if not bracket.plates:
        return
    pieces: list[Piece] = ["Edges: "]
    for number, plate in enumerate(bracket.plates):
        path: Path = ("plates", plate.name, "cut_by")
        spoken = f"how the edges of plate {plate.name} are cut"
        field = Field((path,), spoken, plate.cut_by, "choice", choices=get_args(CutBy))
        pieces += ["; " if number else "", f"{plate.name} cut by ", field, ", thinner by up to "]
        pieces += [_tolerance_field(bracket, plate), " mm"]
    yield Line("edges", (*pieces, "."))


def _tolerance_field(bracket: Bracket, plate: Plate) -> Field:
    """Return how much thinner a plate may be: what sheets usually are, until somebody measures it."""
    default = usual_tolerance_of(bracket, plate)
    value = default if plate.thickness_tolerance_mm is None else plate.thickness_tolerance_mm
    usual, looser = ("", False) if default is None else off_default(value, default, higher_is_looser=False)
    return Field(
        (("plates", plate.name, "thickness_tolerance_mm"),),
        f"how much thinner plate {plate.name} may be",
        value,
        "number",
        may_be_empty=True,
        usual=usual,
        looser=looser,
    )


def _life_line(bracket: Bracket) -> Line:
    fatigue = bracket.loads.fatigue
    if fatigue.spectrum:
        told = ", ".join(f"{turn.count:g} times {turn.torque_nm:g} N.m" for turn in fatigue.spectrum)
        return Line("life", (f"Over its life the couple reverses {told}.",))
    asked, default = fatigue.full_cycles, Fatigue().full_cycles
    usual, looser = off_default(asked, default, higher_is_looser=False)
    path: Path = ("loads", "fatigue", "full_cycles")
    field = Field((path,), "full reversals over its life", asked, "whole number", usual=usual, looser=looser)
    return Line("life", ("Over its life the whole couple reverses ", field, " times."))


def _engine_line(bracket: Bracket, drafts: Drafts) -> Line:
    """Return what shakes the car while it stands; emptied, nothing does."""
    engine = bracket.loads.engine
    stem: Path = ("loads", "engine") if engine is not None else ("loads", "engine", "+")
    cylinders, idle = (
        getattr(engine, name) if engine is not None else drafts.get((*stem, name)) for name in ENGINE_PARTS
    )
    return Line(
        "engine",
        (
            "Engine: ",
            _optional((*stem, "cylinders"), "cylinders of the engine", cylinders, "whole number"),
            " cylinders, idling at ",
            _optional((*stem, "idle_rpm"), "turns a minute at idle", idle, "number"),
            " turns a minute; with both, the natural frequency is held against it.",
        ),
    )


def _optional(path: Path, spoken: str, value: object, kind: Kind) -> Field:
    return Field((path,), f"{spoken}; emptied, it is taken out", value, kind, may_be_empty=True)


_LIMITS = (
    ("Held to: movement ", "movement_mm", "quantity", "mm"),
    (", turn or lean ", "turn_deg", "quantity", "deg"),
    (", movement with a pull ", "pull_movement_mm", "quantity", "mm"),
    ("; stress at most yield / ", "yield_factor", "number", ""),
    (", slip factor ", "slip_factor", "number", ""),
    ("; friction share ", "friction_share", "share", ""),
    (", marginal above ", "marginal_used", "share", ""),
)


def _limit_lines(bracket: Bracket) -> Iterator[Line]:
    looser, usual = bracket.limits.looser(), Limits()
    pieces: list[Piece] = []
    for words, name, kind, unit in _LIMITS:
        value, default = getattr(bracket.limits, name), getattr(usual, name)
        told = "" if value == default else limit_words(name, default, bare=True)
        spoken = f"limit of {limit_words(name, value).rsplit(f' {value:g}', 1)[0]}"
        field = Field(
            (("limits", name),),
            spoken,
            value,
            kind,  # type: ignore[arg-type]
            unit,
            usual=told,
            looser=name in looser,
        )
        pieces += [words, field]
    yield Line("limits", (*pieces, "."))


def _claim_lines(bracket: Bracket) -> Iterator[Line]:
    claim = bracket.claim
    if claim is None:
        return
    holds = "" if claim.holds_to_nm is None else f", holding to {couple_words(claim.holds_to_nm, 'mm')}"
    stale = claim.hash != bracket.input_hash()
    yield Line(
        "claim",
        (
            f"The file claims {claim.verdict}{holds}, by version {claim.version} on {claim.date}: "
            + ("stale, the inputs have changed since." if stale else "a claim, not the verdict."),
        ),
    )
