"""Areas of wall faces by GEOS, through shapely: one JSON wall a line in, one line "gross net" out, in m2."""
import json
import sys

from shapely.geometry import Polygon, box
from shapely.ops import unary_union

for line in sys.stdin:
    wall = json.loads(line)
    face = Polygon(wall["face"])
    holes = unary_union([box(*hole) for hole in wall["holes"]]) if wall["holes"] else Polygon()
    print(repr(face.area / 1e6), repr(face.difference(holes).area / 1e6))
