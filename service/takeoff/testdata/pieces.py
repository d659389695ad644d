"""Pieces of walls against GEOS, through shapely: one JSON wall a line in, one line of what is wrong out ("ok" where nothing is).

A wall is an outline, openings and arches. Each rank is what a cut through the wall at one depth meets:
boxes [x0, z0, x1, z1, shaped]; a shaped one is only what of its box lies within the outline and
outside the curves. Lengths are in mm.
"""
import json
import sys
import warnings

from shapely.geometry import Polygon, box
from shapely.ops import unary_union
from shapely.prepared import prep
from shapely.strtree import STRtree

warnings.simplefilter("ignore")  # a tree answers with boxes, and from version 2 on with their numbers
SMALL = 0.5  # mm2: what rounding to a micrometre leaves over some metres


def shape(piece, outline, bed=0.0):
    x0, z0, x1, z1, shaped = piece
    b = box(x0, z0 - bed, x1, z1)
    return b.intersection(outline) if shaped else b


def shared(boxes):
    """The worst ground that two pieces share."""
    tree = STRtree(boxes)
    at = {id(b): k for k, b in enumerate(boxes)}
    for k, b in enumerate(boxes):
        for hit in tree.query(b):
            other = at.get(id(hit), hit)
            if other > k and b.intersection(boxes[other]).area > SMALL:
                return b.bounds, boxes[other].bounds
    return None


def wrong(wall):
    outline = Polygon(wall["outline"])
    ground = outline.difference(unary_union([Polygon(h) for h in wall["holes"] + wall["curves"]]))
    outline = outline.difference(unary_union([Polygon(h) for h in wall["curves"]]))
    # What has to be laid: not what is too low to lay under a sill, over a head or under the top.
    laid = unary_union([Polygon(p) for p in wall["laid"]]).intersection(ground) if wall["laid"] else ground
    if wall["spared"]:
        laid = laid.difference(unary_union([Polygon(p) for p in wall["spared"]]))
    inside = prep(ground)
    for rank in wall["ranks"]:
        boxes = [shape(p, outline) for p in rank["pieces"]]
        pair = shared(boxes)
        if pair:
            return "depth %s: pieces %s and %s overlap" % (rank["depth"], *pair)
        out = [b for b in boxes if not inside.contains(b) and b.difference(ground).area > SMALL]
        if out:
            return "depth %s: piece %s stands out by %.1f mm2" % (rank["depth"], out[0].bounds, out[0].difference(ground).area)
        with_beds = unary_union([shape(p, outline, wall["bed"]) for p in rank["pieces"]])
        # A gap that is wider than a joint holds a disc of more than half a joint.
        gap = laid.difference(with_beds).buffer(-(wall["joint"] / 2 + 0.01))
        if gap.area > 0:
            return "depth %s: a gap wider than a joint about %s" % (rank["depth"], gap.bounds)
    return "ok"


for line in sys.stdin:
    print(wrong(json.loads(line)))
