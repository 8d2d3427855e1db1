"""Random bodies for the geometry tests, and answers found another way: by linear programming, hulls and meshes."""

from __future__ import annotations

import manifold3d
import numpy as np
from scipy.optimize import linprog
from scipy.spatial import ConvexHull, HalfspaceIntersection
from scipy.spatial.transform import Rotation
from shapely.geometry import MultiPoint, Point

from panelgen.geometry.rods import Rods

SIDES = 64


def random_corners(rng: np.random.Generator, count: int, slope: float = 0.6) -> np.ndarray:
    """(count, 8, 3): sticks of random size and place, turned any way, with ends cut at up to `slope`."""
    size = rng.uniform((100, 30, 15), (900, 200, 90), (count, 3))
    slopes = rng.uniform(-slope, slope, (count, 4))
    bits = np.arange(8)
    y = ((bits >> 1) & 1) * size[:, 1, None]
    z = (bits & 1) * size[:, 2, None]
    start = slopes[:, 0, None] * y + slopes[:, 1, None] * z
    end = size[:, 0, None] + 200 + slopes[:, 2, None] * y + slopes[:, 3, None] * z
    local = np.stack((np.where(bits & 4, end, start), y, z), axis=2)
    local -= local.mean(axis=1, keepdims=True)
    turned = np.einsum("nvc,ncd->nvd", local, Rotation.random(count, rng).as_matrix())
    return turned + rng.uniform(-150, 150, (count, 1, 3))


def random_rods(rng: np.random.Generator, count: int, bends: float = 0.0) -> Rods:
    """Rods of random size and direction near the origin; `bends` is the share of round ends."""
    middle = rng.uniform(-150, 150, (count, 3))
    direction = rng.normal(size=(count, 3))
    direction /= np.linalg.norm(direction, axis=1, keepdims=True)
    half = direction * rng.uniform(10, 300, (count, 1))
    round_start, round_end = rng.random((2, count)) < bends
    return Rods.between(middle - half, middle + half, rng.uniform(2, 80, count), round_start, round_end)


def cut_body(corners: np.ndarray, rods: Rods, k: int) -> np.ndarray | None:
    """Corners of a hexahedron cut to the slab between rod k's end planes, or None where nothing is left."""
    direction = rods.direction[k]
    foot = rods.start[k] @ direction
    slab = [[*-direction, foot], [*direction, -foot - rods.length[k]]]
    rows = np.vstack((ConvexHull(corners).equations, slab))
    sizes = np.linalg.norm(rows[:, :3], axis=1)
    centre = linprog((0, 0, 0, -1), A_ub=np.column_stack((rows[:, :3], sizes)), b_ub=-rows[:, 3], bounds=(None, None))
    if not centre.success or centre.x[3] < 1e-6:
        return None
    return HalfspaceIntersection(rows, centre.x[:3]).intersections


def seen_distance(points: np.ndarray, rods: Rods, k: int) -> float:
    """Distance from rod k's axis to the hull of points, seen along the axis; minus the depth where it enters."""
    across = np.linalg.svd(rods.direction[k][None])[2][1:]
    hull = MultiPoint((points - rods.start[k]) @ across.T).convex_hull
    origin = Point(0, 0)
    return -hull.exterior.distance(origin) if hull.contains(origin) else hull.distance(origin)


def drum(rods: Rods, k: int, scale: float = 1.0) -> manifold3d.Manifold:
    """Rod k as a prism of `SIDES` sides inside it, or with scale 1 / cos(pi / SIDES) around it; flat ends."""
    first, second = np.linalg.svd(rods.direction[k][None])[2][1:]
    if np.cross(first, second) @ rods.direction[k] < 0:
        first = -first
    placed = np.column_stack((first, second, rods.direction[k], rods.start[k]))
    return manifold3d.Manifold.cylinder(rods.length[k], rods.radius[k] * scale, -1, SIDES).transform(placed)


def block(corners: np.ndarray) -> manifold3d.Manifold:
    """A hexahedron as a solid."""
    return manifold3d.Manifold.hull_points(corners)
