"""The unrolled wall by an open finite-element library: quadratic triangles fitted to the holes, nothing of ours."""

import numpy as np
from scipy.spatial import Delaunay
from skfem import Basis, ElementTriP2, MeshTri, asm, condense, solve
from skfem.models.poisson import laplace


def half_cell(outer_m, inner_m, holes, hole_m, rings, spacing_m, staggered, slot_m=0.0, fine=1.0):
    """Mesh of half a pitch with 2 pitches of plain wall on each side: (MeshTri, length in m, half pitch in m)."""
    middle = (outer_m + inner_m) / 2
    half = np.pi * middle / holes / 2
    plain = 4 * half
    long = (rings - 1) * spacing_m + hole_m + 2 * plain
    centres = [(half if staggered and r % 2 else 0.0, plain + hole_m / 2 + r * spacing_m) for r in range(rings)]
    web = min(half - middle / 2 * np.arcsin(hole_m / middle) - slot_m / 2, half / 3)
    step = min(web / 4, half / 24) / fine

    def edge(grow, count):  # a curve round the hole, grown by a distance in the flat chord plane
        turn = np.linspace(-np.pi / 2, np.pi / 2, count)
        r = hole_m / 2 + grow
        y = middle / 2 * np.arcsin(np.clip(2 * r * np.cos(turn) / middle, -1, 1)) + slot_m / 2
        return np.concatenate(
            [np.stack([y, r * np.sin(turn)], 1), np.stack([-y, r * np.sin(turn)], 1)]
            + (
                [np.stack([np.linspace(-slot_m / 2, slot_m / 2, 30)[1:-1], np.full(28, s * r)], 1) for s in (-1, 1)]
                if slot_m
                else []
            )
        )

    def inside(points, grow=0.0):
        found = np.zeros(len(points), bool)
        for y0, z0 in centres:
            aside = np.maximum(np.abs(points[:, 0] - y0) - slot_m / 2, 0.0)
            found |= (middle / 2 * np.sin(2 * aside / middle)) ** 2 + (points[:, 1] - z0) ** 2 < (
                hole_m / 2 + grow
            ) ** 2
        return found

    across, along = int(np.ceil(half / step)), int(np.ceil(long / step))
    grid = np.stack(
        np.meshgrid(np.linspace(0, half, across + 1), np.linspace(0, long, along + 1), indexing="ij"), -1
    ).reshape(-1, 2)
    points = [grid[~inside(grid, 0.6 * step)]]
    count = int(np.ceil(np.pi * hole_m / 2 / step * 2)) | 1
    for y0, z0 in centres:
        ring = edge(0.0, count) + (y0, z0)
        ring[:, 0] = np.where(np.abs(ring[:, 0]) < 1e-9, 0.0, ring[:, 0])
        on = ring[(ring[:, 0] >= -1e-12) & (ring[:, 0] <= half + 1e-12)]
        ends = np.array([[y0, z0 - hole_m / 2], [y0, z0 + hole_m / 2]])
        points += [np.clip(on, [0, 0], [half, long]), ends]
    points = np.unique(np.round(np.concatenate(points), 12), axis=0)
    triangles = Delaunay(points / half).simplices
    a, b, c = (points[triangles[:, k]] for k in range(3))
    twice = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    keep = ~inside((a + b + c) / 3, -1e-9) & (np.abs(twice) > 1e-6 * step**2)
    used, triangles = np.unique(triangles[keep], return_inverse=True)
    return MeshTri(points[used].T.copy(), triangles.reshape(-1, 3).T.copy()), long, half


def extra_by_fem(*pattern, fine=1.0, **more):
    """Extra length of plain tube by finite elements, m."""
    mesh, long, half = half_cell(*pattern, fine=fine, **more)
    return solve_mesh(mesh, long, half)


def solve_mesh(mesh, long, half):
    """Assemble and solve on a mesh of half_cell; extra length in m."""
    basis = Basis(mesh, ElementTriP2())
    matrix = asm(laplace, basis)
    hot = basis.get_dofs(lambda x: x[1] < 1e-9).all()
    cold = basis.get_dofs(lambda x: x[1] > long - 1e-9).all()
    x = basis.zeros()
    x[hot] = 1.0
    x = solve(*condense(matrix, x=x, D=np.concatenate([hot, cold])))
    return half / float(x @ (matrix @ x)) - long
