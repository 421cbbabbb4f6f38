"""A whole tool in two dimensions (along the axis and across it) by finite elements, written from its drawing alone.

Bilinear quadrilaterals of scikit-fem, 2 pi r in every integral.  Nothing of the network is used but the laws of a
surface in air, so that what differs is the network's own doing: one temperature across each wall, shells, half cells.
"""

import numpy as np
import skfem as fem

from benchcalc.thermal.surfaces.surface_loss import air_at, convection_of

SIGMA, ROOM_C, SPEED_M_S = 5.670374419e-8, 20.0, 0.15
TIP, STEM, TUBE, WOOD, MICA, COIL, FIT, GRIP, AIR = range(9)
TIP_M, FRONT_M, COIL_M, STEM_M, HANDLE_M, TUBE_M, END_M = 0.030, 0.024, (0.033, 0.077), 0.080, 0.120, 0.180, 0.210
R = {"stem": 3e-3, "mica": 3.25e-3, "coil": 3.53e-3, "tip": 4e-3, "bore": 4.05e-3, "tube": 5e-3, "wood": 13e-3}
GRIP_M = 5e-5  # of wood that stands for the contact on the tube
K_TIP, K_MICA, K_ACROSS, K_ALONG, FIT_W_M2K, GRIP_W_M2K = 115.0, 0.5, 0.16, 0.29, 1500.0, 430.0
STEEL_K, STEEL_C = ((20.0, 820.0), (52.0, 28.0)), ((27.0, 127.0, 327.0, 527.0), (434.0, 487.0, 559.0, 685.0))
HEAT = {TIP: 8500 * 380.0, WOOD: 680 * 1600.0, MICA: 2850 * 880.0, COIL: 4.0e6, FIT: 1e3, GRIP: 1e3, AIR: 1e3}
SHINE = {"tip": 0.6, "tube": 0.5, "wood": 0.9, "coil": 0.85, "stem": 0.6}
POWER_W = 20.0


def _mesh():
    coarse = [(0.0, 0.022, 9), (0.022, 0.036, 14), (0.036, 0.074, 15), (0.074, 0.084, 10), (0.084, 0.118, 14)]
    coarse += [(0.118, 0.124, 6), (0.124, 0.18, 16), (0.18, 0.21, 6)]
    along = np.unique(np.round(np.concatenate([np.linspace(a, b, n + 1) for a, b, n in coarse]), 9))
    across = [0, 1.5e-3, 3e-3, 3.25e-3, 3.53e-3, 3.78e-3, 4e-3, 4.05e-3, 4.5e-3, 5e-3, 5e-3 + GRIP_M]
    across += [5.6e-3, 6.5e-3, 7.8e-3, 9.4e-3, 11.2e-3, 13e-3]
    whole = fem.MeshQuad.init_tensor(along, np.array(across))
    x, r = whole.p[:, whole.t].mean(axis=1)
    kind = np.full(x.size, -1)
    kind[(x < TIP_M) & (r < R["tip"])] = TIP
    kind[(x > TIP_M) & (x < STEM_M) & (r < R["stem"])] = STEM
    kind[(x > TIP_M) & (x < STEM_M) & (r > R["stem"]) & (r < R["bore"])] = AIR
    wound = (x > COIL_M[0]) & (x < COIL_M[1])
    kind[wound & (r > R["stem"]) & (r < R["mica"])] = MICA
    kind[wound & (r > R["mica"]) & (r < R["coil"])] = COIL
    kind[(x > FRONT_M) & (x < TIP_M) & (r > R["tip"]) & (r < R["bore"])] = FIT
    kind[(x > FRONT_M) & (x < TUBE_M) & (r > R["bore"]) & (r < R["tube"])] = TUBE
    kind[(x > HANDLE_M) & (x < TUBE_M) & (r > R["tube"]) & (r < R["tube"] + GRIP_M)] = GRIP
    kind[(x > HANDLE_M) & (r > R["tube"] + GRIP_M)] = WOOD
    return whole.restrict(np.flatnonzero(kind >= 0)), kind[kind >= 0]


@fem.BilinearForm
def _stiff(u, v, w):
    return 2 * np.pi * w.x[1] * (w.along * u.grad[0] * v.grad[0] + w.across * u.grad[1] * v.grad[1])


@fem.BilinearForm
def _mass(u, v, w):
    return 2 * np.pi * w.x[1] * w.value * u * v


@fem.LinearForm
def _load(v, w):
    return 2 * np.pi * w.x[1] * w.value * v


class WholeTool:
    """The mesh, its matrices at given temperatures, and the four places that are compared."""

    def __init__(self):
        self.mesh, self.kind = _mesh()
        self.basis = fem.Basis(self.mesh, fem.ElementQuad1(), intorder=3)
        ends = self.mesh.p[:, self.mesh.facets[:, self.mesh.boundary_facets()]]
        x, r = ends.mean(axis=1)
        flat = np.ptp(ends[1], axis=0) < 1e-12
        near = 1e-9
        skins = [
            ("tip", R["tip"], flat & (abs(r - R["tip"]) < near) & (x < FRONT_M) | (x < near)),
            ("tube", R["tube"], flat & (abs(r - R["tube"]) < near) & (x > FRONT_M) & (x < HANDLE_M)),
            ("tube", R["tube"], ~flat & (abs(x - FRONT_M) < near) & (r > R["bore"])),
            ("wood", R["wood"], flat & (abs(r - R["wood"]) < near)),
            ("wood", R["wood"], ~flat & (abs(x - HANDLE_M) < near) & (r > R["tube"] + GRIP_M)),
            ("wood", R["wood"], ~flat & (abs(x - END_M) < near)),
        ]
        facets = self.mesh.boundary_facets()
        self.skins = [
            (SHINE[k], 2 * radius, fem.FacetBasis(self.mesh, fem.ElementQuad1(), facets=facets[at], intorder=3))
            for k, radius, at in skins
        ]
        coil = (self.kind == COIL)[:, None] * 1.0
        self.heat = _load.assemble(self.basis, value=np.broadcast_to(coil, self.basis.dx.shape))
        self.heat *= POWER_W / self.heat.sum()

    def _cells(self, values):
        return np.broadcast_to(values[:, None], self.basis.dx.shape)

    def system(self, temps):
        """Stiffness, load and heat capacity at temperatures (degC), surfaces straightened there."""
        mean = temps[self.basis.element_dofs].mean(axis=0)
        along, across, held = self._properties(mean)
        matrix = _stiff.assemble(self.basis, along=self._cells(along), across=self._cells(across))
        load, mass = self.heat.copy(), _mass.assemble(self.basis, value=self._cells(held))
        for shine, wide, basis in self.skins:
            at = np.asarray(basis.interpolate(temps))

            def lost(t, shine=shine, wide=wide):
                rays = shine * SIGMA * ((t + 273.15) ** 4 - (ROOM_C + 273.15) ** 4)
                return convection_of(t, ROOM_C, wide, SPEED_M_S) + rays

            slope = (lost(at + 0.05) - lost(at - 0.05)) / 0.1
            matrix = matrix + _mass.assemble(basis, value=slope)
            load += _load.assemble(basis, value=slope * at - lost(at))
        return matrix, load, mass

    def _properties(self, mean):
        n = self.kind.size
        along, across, held = np.zeros(n), np.zeros(n), np.zeros(n)
        steel = np.isin(self.kind, (STEM, TUBE))
        along[steel] = across[steel] = np.interp(mean[steel], *STEEL_K)
        held[steel] = 7850 * np.interp(mean[steel], *STEEL_C)
        still = {TIP: (K_TIP,) * 2, WOOD: (K_ALONG, K_ACROSS), MICA: (0.0, K_MICA), COIL: (0.0, 20.0)}
        still |= {FIT: (0.0, FIT_W_M2K * (R["bore"] - R["tip"])), GRIP: (0.0, GRIP_W_M2K * GRIP_M)}
        for kind, (a, b) in still.items():
            along[self.kind == kind], across[self.kind == kind] = a, b
        for kind, heat in HEAT.items():
            held[self.kind == kind] = heat
        air = self.kind == AIR
        x, _ = self.mesh.p[:, self.mesh.t].mean(axis=1)[:, air]
        wound = (x > COIL_M[0]) & (x < COIL_M[1])
        inner = np.where(wound, R["coil"], R["stem"])
        shine = 1 / (1 / np.where(wound, SHINE["coil"], SHINE["stem"]) + (1 / SHINE["tube"] - 1) * inner / R["bore"])
        rays = 4 * SIGMA * (mean[air] + 273.15) ** 3 * shine * inner * np.log(R["bore"] / inner)  # as a conductivity
        still_air = air_at(mean[air])[0]
        along[air], across[air] = still_air, still_air + rays
        return along, across, held

    def settled(self):
        """Temperatures of the settled tool, degC."""
        temps = np.full(self.basis.N, 200.0)
        for _ in range(14):
            matrix, load, _ = self.system(temps)
            temps, before = fem.solve(matrix, load), temps
            if np.abs(temps - before).max() < 0.02:
                return temps
        raise AssertionError("the finite elements did not settle")

    def warming(self, times_s, step_s=6.0):
        """Temperatures at times that are whole steps from cold: backward differences of second order."""
        temps, before, found = np.full(self.basis.N, ROOM_C), None, []
        for n in range(1, int(round(max(times_s) / step_s)) + 1):
            ahead = temps if before is None else 2 * temps - before
            matrix, load, mass = self.system(ahead)
            if before is None:
                new = fem.solve(matrix + mass / step_s, load + mass @ temps / step_s)
            else:
                new = fem.solve(matrix + 1.5 * mass / step_s, load + mass @ (2 * temps - 0.5 * before) / step_s)
            temps, before = new, temps
            if any(abs(n * step_s - t) < 1e-9 for t in times_s):
                found.append(temps)
        return found

    def places(self, temps):
        """Tip, hottest winding, tube where the handle begins, hottest skin of the handle."""
        x, r = self.mesh.p
        at = temps[self.basis.nodal_dofs[0]]
        return {
            "tip": at[x < 1e-9].mean(),
            "winding": at[(r > R["mica"] - 1e-9) & (r < R["coil"] + 1e-9)].max(),
            "tube": at[(abs(x - HANDLE_M) < 1e-9) & (r > R["bore"] - 1e-9) & (r < R["tube"] + 1e-9)].mean(),
            "grip": at[abs(r - R["wood"]) < 1e-9].max(),
        }
