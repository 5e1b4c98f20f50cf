from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from app.mounted import labels
from app.mounted.assembly import dashed
from app.mounted.motion import automatic_factor
from app.mounted.overlay import Disc, Words
from app.mounted.scene import Scene
from app.theme import PAPER, SLATE
from geometry.bracket import Bracket
from tests.app.mounted.solved_example import bracket, hot, results


@pytest.fixture
def scene() -> Scene:
    made = Scene(PAPER, (700, 450))
    made.show(bracket(), results())
    made.set_exaggeration(0.0)
    made.stand("square to the plate")
    return made


def pixel(scene: Scene, at_mm: tuple[float, float, float]) -> tuple[float, float]:
    x, y, _ = scene.camera.project(np.array(at_mm))[0]
    return float(x), float(y)


def test_the_words_tell_the_allowable_in_the_units_chosen(scene: Scene) -> None:
    allowable = results().plates[0].allowable_mpa
    assert f"in MPa; allowable {allowable:.1f}".removesuffix(".0") in scene.words()
    scene.set_units("inch")
    assert f"in ksi; allowable {allowable / 6.894757:.1f}" in scene.words()


def test_the_plate_is_under_its_own_pixels_with_its_stress(scene: Scene) -> None:
    found = scene.pick(*pixel(scene, (50.0, 0.0, 6.0)))
    assert found is not None
    assert (found.kind, found.name) == ("plate", "plate")
    assert found.at_mm == pytest.approx([50.0, 0.0, 6.0], abs=1e-6)
    field = results().plates[0]
    off = np.linalg.norm(field.mesh.points[field.mesh.vertex_nodes] - found.at_mm, axis=1)
    near = field.von_mises_mpa[off < 16.0]
    assert found.value is not None
    assert near.min() <= found.value <= near.max()


def test_bolts_casing_bar_and_wheel_are_picked_where_they_are(scene: Scene) -> None:
    bolt = scene.pick(*pixel(scene, (0.0, -36.0, 12.0)))
    assert bolt is not None
    assert (bolt.kind, bolt.name) == ("bolt", "3")
    scene.stand("from below")
    casing = scene.pick(*pixel(scene, (0.0, -50.0, -110.0)))
    assert casing is not None
    assert casing.kind == "casing"
    scene.stand("whole bar")
    bar = scene.pick(*pixel(scene, (-500.0, 122.0 - 10.0, 30.0)))
    assert bar is not None
    assert bar.kind == "dash bar"
    wheel = scene.pick(*pixel(scene, (0.0, 175.0, 410.0)))
    assert wheel is not None
    assert wheel.kind == "wheel"
    assert scene.pick(1.0, 449.0) is None


def test_what_has_moved_is_picked_where_it_is_drawn(scene: Scene) -> None:
    scene.show_free_motion(0)
    now = scene.factor * 0.01
    at = np.array([60.0, -40.0, 6.0])
    moved = at + now * np.array([-at[1], at[0], 0.0])
    found = scene.pick(*pixel(scene, (float(moved[0]), float(moved[1]), 6.0)))
    assert found is not None
    assert found.kind == "plate"
    edge = np.array([74.9, -59.9, 6.0])
    assert scene.pick(*pixel(scene, (75.5, -60.5, 6.0))) is None
    swung = edge + now * np.array([-edge[1], edge[0], 0.0])
    corner = scene.pick(*pixel(scene, (float(swung[0]), float(swung[1]), 6.0)))
    assert corner is not None


def test_results_of_a_changed_bracket_are_left_aside() -> None:
    scene = Scene()
    changed = bracket().but(rake_deg=26.0)
    scene.show(changed, results())
    assert scene.results is None
    assert scene.words() == "as mounted"
    assert scene.factor == 0.0


def test_words_say_factor_case_and_allowable(scene: Scene) -> None:
    assert "at rest" in scene.words()
    scene.set_exaggeration(1.0)
    assert "true scale" in scene.words()
    scene.set_exaggeration(None)
    assert f"moved \N{MULTIPLICATION SIGN}{scene.factor:g}" in scene.words()
    scene.show_case(3)
    assert results().cases[3].name in scene.words()
    assert "allowable" in scene.words()
    scene.show(bracket(), results(), pencil=True)
    assert "so far" in scene.words().splitlines()[0]


@pytest.mark.parametrize("size_px", [(150, 260), (180, 360), (346, 272), (700, 450)])
def test_no_line_of_the_caption_ends_in_the_middle(scene: Scene, size_px: tuple[int, int]) -> None:
    scene.camera = replace(scene.camera, size_px=size_px)
    lines = scene.words().splitlines()
    written = " ".join(scene._short_words().split())
    assert written in [" ".join(lines[: k + 1]) for k in range(len(lines))]


@pytest.mark.parametrize(
    ("largest", "factor"), [(0.04, 200.0), (0.4, 20.0), (5.0, 2.0), (50.0, 1.0), (0, 1.0)]
)
def test_the_automatic_factor_is_round(largest: float, factor: float) -> None:
    assert automatic_factor(largest, 170.0) == pytest.approx(factor)


def test_a_case_moves_the_plate_as_its_own_figures_say(scene: Scene) -> None:
    rest = scene.frame().solid.points
    scene.show_case(2)
    scene.set_exaggeration(100.0)
    moved = scene.frame().solid.points
    shape = scene._shapes.surfaces
    count = sum(len(s.points) for s in shape if s.fill != "casing")
    assert len(moved) == count
    plate = results().plates[0].case_displacements_mm[2]
    largest = np.linalg.norm(moved - rest, axis=1).max()
    assert largest >= 100.0 * np.linalg.norm(plate, axis=1).max() * 0.99
    scene.set_phase(0.0)
    assert scene.frame().solid.points == pytest.approx(rest)


def test_the_casing_follows_its_own_motion_in_a_case(scene: Scene) -> None:
    scene.show_case(0)
    scene.set_exaggeration(50.0)
    motion = results().cases[0].casing_motion
    corners = scene.frame().see_through.points
    scene.set_exaggeration(0.0)
    rest = scene.frame().see_through.points
    assert corners - rest == pytest.approx(50.0 * (motion[:3] + np.cross(motion[3:], rest)))


def test_unknown_cases_and_motions_are_refused_with_their_number(scene: Scene) -> None:
    with pytest.raises(IndexError, match="no load case 1000"):
        scene.show_case(999)
    with pytest.raises(IndexError, match="no free motion 2"):
        scene.show_free_motion(1)


def test_every_bolt_has_a_balloon_and_none_lies_on_another(scene: Scene) -> None:
    scene.stand("aslant")
    discs = [d for d in scene.items() if isinstance(d, Disc) and d.half_height_px > 5]
    words = {w.words for w in scene.items() if isinstance(w, Words)}
    assert {str(n) for n in range(1, 8)} <= words
    assert len(discs) == 7
    at = np.array([[d.x_px, d.y_px] for d in discs])
    gaps = np.linalg.norm(at[:, None] - at[None], axis=2) + 1e9 * np.eye(7)
    assert gaps.min() > 20.0


def test_balloons_keep_beside_their_bolts_in_a_draft(scene: Scene) -> None:
    def offsets() -> np.ndarray:
        return np.array([scene._layout.offsets[str(n)] for n in range(1, 8)])

    scene.items()
    before = offsets()
    scene.camera = scene.camera.turned(30, 5)
    scene.items(draft=True)
    assert offsets() == pytest.approx(before)


def test_contour_values_behind_the_plate_are_not_written(scene: Scene) -> None:
    scene.show(bracket(), hot(1.5))
    scene.set_exaggeration(0.0)
    front = [w for w in scene.items() if isinstance(w, Words) and w.ground == PAPER.map_low]
    assert front
    every = [m for m in scene._shapes.marks if m.style == "contour"]
    assert len(front) < len(every)
    assert not [w for w in scene.items(draft=True) if isinstance(w, Words) and w.ground == PAPER.map_low]


def test_forces_are_arrows_that_end_at_the_bolts(scene: Scene) -> None:
    scene.show_case(0)
    scene.show_forces(on=True)
    words = [w.words for w in scene.items() if isinstance(w, Words)]
    for sheet in results().cases[0].sheets:
        assert f"{np.linalg.norm(sheet.force_n):.0f} N" in words
    scene.set_units("inch")
    words = [w.words for w in scene.items() if isinstance(w, Words)]
    for sheet in results().cases[0].sheets:
        assert f"{np.linalg.norm(sheet.force_n) / 4.4482216152605:.0f} lbf" in words
    assert "forces of the bolts" in scene.words()


def test_a_pinned_label_stays_at_its_place(scene: Scene) -> None:
    scene.pin(np.array([50.0, 0.0, 6.0]), "12 MPa")
    scene.camera = scene.camera.turned(40, 0)
    (label,) = [w for w in scene.items() if isinstance(w, Words) and w.words == "12 MPa"]
    x, y = pixel(scene, (50.0, 0.0, 6.0))
    assert 0 < label.x_px - x < 80
    assert label.y_px < y
    scene.unpin()
    assert "12 MPa" not in [w.words for w in scene.items() if isinstance(w, Words)]


def test_what_is_selected_gets_heavier_lines(scene: Scene) -> None:
    def widest() -> float:
        return max(line.width_px for line in scene.frame().lines.values())

    before = widest()
    scene.select("plate", "plate")
    assert widest() > 1.5 * before
    scene.select(None)
    assert widest() == before


def test_a_theme_changes_colours_and_nothing_else(scene: Scene) -> None:
    paper = scene.frame()
    scene.set_theme(SLATE)
    slate = scene.frame()
    assert slate.ground != paper.ground
    assert slate.solid.points == pytest.approx(paper.solid.points)
    assert not np.array_equal(slate.solid.colours, paper.solid.colours)


def test_an_empty_bracket_is_an_empty_picture() -> None:
    scene = Scene()
    scene.show(Bracket())
    assert len(scene.frame().solid.triangles) == 0
    assert scene.pick(20, 20) is None
    scene.stand("square to the plate")
    assert scene.items()


def test_showing_a_changed_bracket_keeps_the_camera(scene: Scene) -> None:
    scene.camera = replace(scene.camera, mm_per_px=0.123)
    scene.show(bracket().but(title="other"))
    assert scene.camera.mm_per_px == 0.123


def test_dashes_begin_and_end_a_line_and_leave_gaps() -> None:
    line = np.array([[[0.0, 0.0, 0.0], [100.0, 0.0, 0.0]]])
    pieces = dashed(line, np.array([14.0, 3.0, 3.0, 3.0]))[:, :, 0]
    pieces = pieces[np.argsort(pieces[:, 0])]
    assert pieces[0, 0] == 0.0
    assert pieces[-1, 1] == pytest.approx(100.0)
    assert (pieces[1:, 0] > pieces[:-1, 1] + 1.0).all()
    assert dashed(line[:, :, :] * 0.05, np.array([14.0, 3.0])).shape == (1, 2, 3)


def test_long_lines_of_the_caption_are_broken_in_a_narrow_picture(scene: Scene) -> None:
    def captions() -> list[str]:
        items = [item for item in scene.items() if isinstance(item, Words) and item.across == "left"]
        return [item.words for item in items if item.x_px == labels.CAPTION_LEFT_PX]

    scene.camera = replace(scene.camera, size_px=(900, 900))
    assert any("; allowable" in words for words in captions())
    scene.camera = replace(scene.camera, size_px=(240, 900))
    narrow = captions()
    assert " ".join(narrow) == " ".join(scene.words().split())
    assert max(map(len, narrow)) * labels.LETTER_PX <= 240
