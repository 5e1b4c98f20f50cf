"""stage one"""
from __future__ import annotations
import numpy as np
from geometry.bend_zones import FoldedPattern
from geometry.plate import Plate
from geometry.solid_mesh import Floats
class FoldMap:
    def __init__(self, plate: Plate, folded: FoldedPattern) -> None:
        p=plate.placement; x=np.array(p.x_axis); x=x/np.linalg.norm(x); y=np.array(p.y_axis); y=y-(y@x)*x; y/=np.linalg.norm(y)
        self.axes=np.column_stack([x,y,np.cross(x,y)]); self.o=np.array(p.origin_mm); self.z0={"back":0,"middle":.5,"front":1}[p.origin_on]*plate.thickness_mm
    def to_space(self, points: Floats) -> Floats:
        return self.o+(points-[0,0,self.z0])@self.axes.T
