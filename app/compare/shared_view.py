"""Several mounted brackets looked at alike: one stress scale, one exaggeration, one camera."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from app.mounted.camera import Camera
from app.mounted.scene import Scene
from solver.results import Results


def highest_stress_mpa(results: Sequence[Results | None]) -> float | None:
    """Return the highest judged stress of all plates of all results; None where nothing was solved."""
    tops = [
        float(field.von_mises_mpa[field.judged].max())
        for one in results
        for field in (() if one is None else one.plates)
        if field.judged.any()
    ]
    return max(tops, default=None)


def shared_factor(scenes: Sequence[Scene]) -> float | None:
    """Return the factor every scene is drawn with: the one that suits the bracket that moves most.

    None where nothing has moved. Scenes are left with their own factors chosen by themselves.
    """
    for scene in scenes:
        scene.set_exaggeration(None)
    factors = [scene.factor for scene in scenes if scene.factor > 0.0]
    return min(factors, default=None)


def shared_camera(scenes: Sequence[Scene], top_px: float = 0.0) -> Camera:
    """Return the first scene's camera, fitted so that every bracket is in the picture at the same scale.

    The middle of all is the middle of every picture, so that what stands in the same place in the car is in
    the same place in the pictures.
    """
    places = [scene.places() for scene in scenes]
    found = [at for at in places if len(at)]
    camera = scenes[0].camera
    return camera.fitted(np.concatenate(found), top_px) if found else camera


def look_alike(scenes: Sequence[Scene], factor: float | None = None, top_px: float = 0.0) -> float:
    """Give all scenes one stress scale, one exaggeration and one camera; return the exaggeration.

    Without a factor it is the one that suits the bracket that moves most.
    """
    highest = highest_stress_mpa([scene.results for scene in scenes])
    common = shared_factor(scenes) if factor is None else factor
    for scene in scenes:
        scene.share_stress_scale(highest)
        scene.set_exaggeration(common)
    camera = shared_camera(scenes, top_px)
    for scene in scenes:
        scene.camera = replace(camera, size_px=scene.camera.size_px)
    return 0.0 if common is None else common
