"""The rows of the file's own materials. No Qt."""

from __future__ import annotations

from collections.abc import Iterator

from app.window.lists.field import Field, Line, Path, Piece
from app.window.lists.rows import Row
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.fixing import OwnMaterial

_KINDS = ("steel", "stainless", "aluminium")


def material_rows(bracket: Bracket) -> Iterator[Row]:
    """Yield a row for each material that is in no table."""
    for number, own in enumerate(bracket.materials, start=1):
        yield _row(own, number)


def _row(own: OwnMaterial, number: int) -> Row:
    spoken = f"material {own.name}"

    def field(name: str, words: str, kind: str = "quantity", unit: str = "", **given: object) -> Field:
        path: Path = ("materials", own.name, name)
        return Field((path,), f"{words} of {spoken}", getattr(own, name), kind, unit, **given)  # type: ignore[arg-type]

    rest: tuple[Piece, ...] = (
        "name ",
        field("name", "name", "words"),
        "; tensile strength ",
        field("tensile_mpa", "tensile strength", unit="MPa"),
        "; elastic modulus ",
        field("elastic_modulus_mpa", "elastic modulus", unit="MPa"),
        ", Poisson's ratio ",
        field("poisson", "Poisson's ratio", "number"),
        "; density ",
        field("density_kg_m3", "density", "number"),
        " kg/m3; least inside radius of a fold ",
        field(
            "least_inside_radius_mm",
            "least inside radius",
            unit="mm",
            may_be_empty=True,
            instead="not stated",
        ),
        "; figures from ",
        field("source", "source of the figures", "words"),
        ".",
    )
    return Row(
        key=spoken,
        item=f"M{number}",
        off=1,
        part=spoken,
        cells=(
            (field("yield_mpa", "yield", unit="MPa"),),
            (field("kind", "kind", "choice", choices=_KINDS),),
            ("yield",),
            ("own",),
        ),
        pick=Pick("material", own.name),
        rest=Line(spoken, rest),
    )
