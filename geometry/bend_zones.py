"""stage one"""
from __future__ import annotations
from dataclasses import dataclass
from shapely.geometry import Polygon
from geometry.flat_pattern import FlatPattern
from geometry.flat_segments import Edge, Flat
from geometry.plate import Plate
@dataclass(frozen=True)
class FoldedPattern:
    panels: tuple[Polygon, ...]
    def strip_lines(self) -> list[tuple[Edge, float]]:
        return []
    def panel_at(self, place: Flat) -> Polygon:
        return self.panels[0]
def folded_pattern(plate: Plate, pattern: FlatPattern) -> FoldedPattern:
    if plate.folds: raise NotImplementedError
    return FoldedPattern((pattern.polygon,))
