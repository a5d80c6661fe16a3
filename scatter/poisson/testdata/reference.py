"""Writes reference.txt: how far apart the points of two other samplers lie, with numpy and scipy alone.

python3 reference.py > reference.txt
"""

import math
import platform
import sys

import numpy as np
import scipy
from scipy.spatial import cKDTree
from scipy.stats import qmc

RUNS, SIDE, OFF = 200, 24, 3  # squares of so many radii; what lies nearer to an edge than OFF does not count
NEAREST = np.append(np.arange(1, 1.301, 0.02), 9)
RING = np.arange(1, 3.01, 0.05)


def sequential(rng):
    """Random sequential adsorption: discs thrown evenly at a square that is closed to a torus, one after
    another, until none finds room. Darts go to squares that a single disc does not hold, which any
    place with room lies in; then these are split in four."""
    points, boxes, size = np.empty((0, 2)), np.argwhere(np.ones((SIDE, SIDE))).astype(float), 1.0
    while len(boxes):
        darts = boxes[rng.integers(len(boxes), size=len(boxes))] + size * rng.random((len(boxes), 2))
        if len(points):
            darts = darts[cKDTree(points, boxsize=SIDE).query(darts)[0] >= 1]
        stuck = []
        for dart in darts:
            gaps = np.abs(np.array(stuck or [[math.inf, math.inf]]) - dart)
            if np.hypot(*np.minimum(gaps, np.abs(SIDE - gaps)).T).min() >= 1:
                stuck.append(dart)
        points = np.vstack([points, np.reshape(stuck, (-1, 2))])
        size /= 2
        boxes = np.vstack([boxes + [x, y] for x in (0, size) for y in (0, size)])
        distance = cKDTree(points, boxsize=SIDE).query(boxes + size / 2)[0]
        boxes = boxes[distance + size * math.sqrt(0.5) >= 1]
    return points, cKDTree(points, boxsize=SIDE), np.ones(len(points), bool), SIDE


def bridson(rng):
    """scipy.stats.qmc.PoissonDisk with its defaults, until it is done."""
    points = SIDE * qmc.PoissonDisk(2, radius=1 / SIDE, seed=rng).fill_space()
    inner = np.all((points >= OFF) & (points <= SIDE - OFF), axis=1)
    return points, cKDTree(points), inner, SIDE - 2 * OFF


def measured(points, tree, inner, side, rng):
    """What is in a line of the table, for one run."""
    centres = points[inner]
    nearest = np.histogram(tree.query(centres, 2)[0][:, 1], NEAREST)[0] / len(centres)
    within = [sum(map(len, tree.query_ball_point(centres, r))) for r in RING]
    darts = OFF + (SIDE - 2 * OFF) * rng.random((20000, 2))
    room = np.mean(tree.query(darts)[0] >= 1)
    return np.concatenate([[len(centres) / side**2, room], nearest, np.diff(within) / len(centres)])


print(f"""\
# How far apart points lie whose least distance is 1. Made by reference.py beside this file with Python
# {platform.python_version()}, numpy {np.__version__} and scipy {scipy.__version__}. Means of {RUNS} squares of {SIDE} x {SIDE} and their standard errors,
# first by random sequential adsorption until no disc finds room, on a torus, then by
# scipy.stats.qmc.PoissonDisk with its defaults, of points {OFF} and more from the edge.
#
# density: points per unit of area. room: the share of places 1 and more from every point.
# nearest a b: the share of points whose nearest neighbour is from a to b away. ring a b: how many
# points are from a to b away from a point, on average.
#
# what  from  to  sequential  error  scipy  error""")
names = ["density 0 0", "room 0 0"]
names += [f"nearest {a:.2f} {b:.2f}" for a, b in zip(NEAREST, NEAREST[1:])]
names += [f"ring {a:.2f} {b:.2f}" for a, b in zip(RING, RING[1:])]
columns = []
for sampler, seed in ((sequential, 1), (bridson, 2)):
    rng = np.random.default_rng(seed)
    table = np.array([measured(*sampler(rng), rng) for _ in range(RUNS)])
    columns += [table.mean(axis=0), table.std(axis=0, ddof=1) / math.sqrt(RUNS)]
    print(sampler.__name__, "done", file=sys.stderr)
for name, *figures in zip(names, *columns):
    print(name, *(f"{x:.6f}" for x in figures))
