"""`materials`, `bolts` and `schema`: the tables the program judges by, with their sources."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, Literal

from app.cli.page import page_for_stdout, say
from app.cli.strict_json import strict_json
from app.wording.figures import figure

if TYPE_CHECKING:
    from geometry.bolt_tables import BoltGrade, BoltSize
    from geometry.materials import Material

SchemaOf = Literal["bracket", "limits", "record", "profile"]


def print_schema(of: SchemaOf = "bracket") -> int:
    """Print the JSON Schema of a kind of file."""
    from geometry.bracket_file import json_schema
    from geometry.loads import Limits

    schema = json_schema()
    if of == "limits":
        schema = {"$schema": schema["$schema"]} | Limits.model_json_schema()
    elif of == "record":
        from app.record.record_file import json_schema as record_schema

        schema = record_schema()
    elif of == "profile":
        from app.record.profile import Profile

        schema = {"$schema": schema["$schema"]} | Profile.model_json_schema()
    say(json.dumps(schema, indent=2))
    return 0


def print_materials(*, as_json: bool = False) -> int:
    """Print the sheet metals and the metals of bosses and anchors."""
    from geometry.materials import (
        BACKING_METALS,
        MATERIALS,
        STANDARD_THICKNESSES_MM,
        STANDARD_THICKNESSES_SOURCE,
    )

    if as_json:
        say(
            strict_json(
                {
                    "materials": [_material_object(m) for m in MATERIALS],
                    "boss_metals": [
                        {
                            "name": b.name,
                            "elastic_modulus_mpa": list(b.elastic_modulus_mpa),
                            "poisson": b.poisson,
                            "source": b.source,
                        }
                        for b in BACKING_METALS
                    ],
                    "standard_thicknesses_mm": list(STANDARD_THICKNESSES_MM),
                    "standard_thicknesses_source": STANDARD_THICKNESSES_SOURCE,
                }
            )
        )
        return 0
    page = page_for_stdout()
    page.line("Sheet metals, least guaranteed values", style="bold")
    page.table(
        ("name", ">up to mm", ">yield MPa", ">tensile MPa", ">E MPa", ">Poisson", ">kg/m3"),
        [row for m in MATERIALS for row in _strength_rows(m)],
    )
    page.heading("Least inside radius of a 90 deg fold across the grain, by thickness up to mm")
    for m in MATERIALS:
        page.hanging(f"  {m.name}: ", _radii(m))
    page.heading("Sources")
    for m in MATERIALS:
        page.hanging(f"  {m.name}: ", f"strength {m.strength_source}; radius {m.radius_source}")
    for source in dict.fromkeys(m.stiffness_source for m in MATERIALS):
        page.hanging("  stiffness: ", source)
    page.heading("Metals of bosses and anchors")
    page.table(
        ("name", ">E MPa", ">Poisson", "source"),
        [
            (
                b.name,
                " to ".join(dict.fromkeys(figure(e) for e in b.elastic_modulus_mpa)),
                figure(b.poisson),
                b.source,
            )
            for b in BACKING_METALS
        ],
    )
    page.heading("Sheet and plate")
    page.line(
        ", ".join(f"{t:g}" for t in STANDARD_THICKNESSES_MM) + f" mm ({STANDARD_THICKNESSES_SOURCE})",
        indent=2,
    )
    say(page.text)
    return 0


def print_bolts(*, as_json: bool = False) -> int:
    """Print the bolt sizes and grades."""
    from geometry.bolt_tables import (
        BOLT_GRADES,
        BOLT_SIZES,
        COLUMN_SOURCES,
        FACE_FRICTION,
        FACE_FRICTION_SOURCE,
    )

    if as_json:
        say(
            strict_json(
                {
                    "sizes": [_size_object(s) for s in BOLT_SIZES],
                    "grades": [_grade_object(g) for g in BOLT_GRADES],
                    "face_friction": [
                        {"class": name, "faces": faces, "friction": friction}
                        for name, (faces, friction) in FACE_FRICTION.items()
                    ],
                    "face_friction_source": FACE_FRICTION_SOURCE,
                    "sources": dict(COLUMN_SOURCES),
                }
            )
        )
        return 0
    page = page_for_stdout()
    page.line("Bolt sizes, mm and mm2", style="bold")
    page.line("Holes fine / medium / coarse; washer inner / outer / thick.")
    page.table(
        ("size", ">d", ">pitch", ">A_s", "holes", "washer", ">flats", ">dw"),
        [
            (
                s.name,
                _short(s.diameter_mm),
                _short(s.pitch_mm),
                _short(s.stress_area_mm2),
                _slashed(s.hole_fine_mm, s.hole_medium_mm, s.hole_coarse_mm),
                _slashed(s.washer_inner_mm, s.washer_outer_mm, s.washer_thickness_mm),
                _short(s.head_across_flats_mm),
                _short(s.head_face_mm),
            )
            for s in BOLT_SIZES
        ],
    )
    page.heading("Bolt grades, MPa")
    page.table(
        ("grade", ">tensile", ">yield", ">proof", ">alpha_v", "source"),
        [
            (
                g.name,
                _short(g.tensile_mpa),
                _short(g.yield_mpa),
                _short(g.proof_mpa),
                _short(g.alpha_v),
                _grade_source(g),
            )
            for g in BOLT_GRADES
        ],
    )
    page.heading("Friction of clamped faces, by class")
    page.table(
        ("class", ">friction", "faces"),
        [(name, _short(friction), faces) for name, (faces, friction) in FACE_FRICTION.items()],
    )
    page.line("Classes are of structural steelwork: paint, galvanising and oil hold less.", indent=2)
    page.heading("Sources")
    page.hanging("  friction of faces: ", FACE_FRICTION_SOURCE)
    for column, source in COLUMN_SOURCES.items():
        page.hanging(f"  {column}: ", source)
    say(page.text)
    return 0


def _strength_rows(m: Material) -> list[tuple[str, ...]]:
    edges = sorted({edge for edge, _ in (*m.yield_steps, *m.tensile_steps) if edge <= m.thickest_mm})
    rows: list[tuple[str, ...]] = []
    for i, edge in enumerate(edges):
        first = i == 0
        rows.append(
            (
                m.name if first else "",
                _edge(edge),
                _plain_number(m.yield_mpa(edge)),
                _plain_number(m.tensile_mpa(edge)),
                figure(m.elastic_modulus_mpa) if first else "",
                figure(m.poisson) if first else "",
                figure(m.density_kg_m3) if first else "",
            )
        )
    return rows


def _radii(m: Material) -> str:
    unit = " t" if m.radius_is_multiple else " mm"
    steps = [f"to {_edge(edge)}: {value:g}{unit}" for edge, value in m.radius_steps]
    return ", ".join(steps) if steps else "none known"


def _edge(thickness_mm: float) -> str:
    # the table writes "below 3" as a hair under it
    whole = round(thickness_mm)
    return f"< {whole}" if 0.0 < whole - thickness_mm < 1e-4 else f"{thickness_mm:.4g}"


def _plain_number(value: float | None) -> str:
    return "-" if value is None else f"{value:.0f}"


def _short(value: float) -> str:
    return f"{value:.4g}"


def _slashed(*values: float) -> str:
    return " / ".join(f"{value:.3g}" for value in values)


def _grade_source(g: BoltGrade) -> str:
    return g.source if g.in_joint_rules else f"{g.source}; outside EN 1993-1-8"


def _material_object(m: Material) -> dict[str, Any]:
    return {
        "name": m.name,
        "kind": m.kind,
        "from_mm": m.from_mm,
        "yield_mpa": [{"up_to_mm": edge, "value": value} for edge, value in m.yield_steps],
        "tensile_mpa": [{"up_to_mm": edge, "value": value} for edge, value in m.tensile_steps],
        "least_inside_radius": [
            {"up_to_mm": edge, "times_thickness" if m.radius_is_multiple else "mm": value}
            for edge, value in m.radius_steps
        ],
        "elastic_modulus_mpa": m.elastic_modulus_mpa,
        "poisson": m.poisson,
        "density_kg_m3": m.density_kg_m3,
        "has_fatigue_limit": m.has_fatigue_limit,
        "sources": {
            "strength": m.strength_source,
            "stiffness": m.stiffness_source,
            "radius": m.radius_source,
        },
    }


def _size_object(s: BoltSize) -> dict[str, Any]:
    return {
        "name": s.name,
        "system": s.system,
        "diameter_mm": s.diameter_mm,
        "pitch_mm": s.pitch_mm,
        "stress_area_mm2": s.stress_area_mm2,
        "hole_fine_mm": s.hole_fine_mm,
        "hole_medium_mm": s.hole_medium_mm,
        "hole_coarse_mm": s.hole_coarse_mm,
        "washer_inner_mm": s.washer_inner_mm,
        "washer_outer_mm": s.washer_outer_mm,
        "washer_thickness_mm": s.washer_thickness_mm,
        "head_across_flats_mm": s.head_across_flats_mm,
        "head_face_mm": s.head_face_mm,
        "head_height_mm": s.head_height_mm,
        "sources": s.sources,
    }


def _grade_object(g: BoltGrade) -> dict[str, Any]:
    return {
        "name": g.name,
        "system": g.system,
        "tensile_mpa": g.tensile_mpa,
        "yield_mpa": g.yield_mpa,
        "proof_mpa": g.proof_mpa,
        "alpha_v": g.alpha_v,
        "design_tensile_mpa": g.design_tensile_mpa,
        "in_joint_rules": g.in_joint_rules,
        "norm": g.norm,
        "source": g.source,
    }
