"""Paths for heat gathered while a tool is walked through: links, bars, rays, skins, as flat arrays."""

from functools import cache

import numpy as np

from ...basics.tables import rows
from ..network.curves import conductivity


@cache
def air():
    """Conductivity of still air as the solver's material, from data/air.csv."""
    table = [r for r in rows("air") if r["temp_c"] >= 0]
    return conductivity("air", [float(r["conductivity_w_mk"]) for r in table], [r["temp_c"] for r in table])


class Paths:
    """Collects links, bars, rays and skins as arrays of a network; designs: 1 or more. grain: Grain."""

    def __init__(self, designs, grain):
        self.designs, self.grain = designs, grain
        self.links, self.bars, self.rays, self.skins = [], [], [], []
        self.materials, self.curves, self.alike, self.air_beside = [], [], {}, None

    def link(self, a, b, value):
        self.links.append((np.ravel(a), np.ravel(b), self._wide(value, np.size(a))))

    def bar(self, a, b, shape, material):
        if material not in self.materials:
            self.materials.append(material)
        n = np.size(a)
        self.bars.append((np.ravel(a), np.ravel(b), self._wide(shape, n), np.full(n, self.materials.index(material))))

    def ray(self, a, b, exchange):
        n = np.size(a)
        self.rays.append((np.ravel(a), np.full(n, b), self._wide(exchange, n)))

    def skin(self, a, area, curve):
        if not any(c is curve for c in self.curves):
            self.curves.append(curve)
        n, which = np.size(a), next(k for k, c in enumerate(self.curves) if c is curve)
        self.skins.append((np.ravel(a), self._wide(area, n), np.full(n, which)))

    def _wide(self, value, n):
        value, shape = np.asarray(value, float), (self.designs, n)
        if value.shape == shape:
            return value
        if self.designs > 1:  # no copy for each design before all are stacked
            return np.broadcast_to(value, shape)
        wide = np.empty(shape)
        wide[:] = value
        return wide

    def stack(self, kind, single):
        found = getattr(self, kind)
        if not found:
            return None
        columns = [np.concatenate(c, axis=-1) for c in zip(*found)]
        return [c[0] if single and c.ndim == 2 else c for c in columns]
