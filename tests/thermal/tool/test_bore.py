"""The open bore behind the coil, against rings and discs reckoned pair by pair with the factors of coaxial discs."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.heat.link import work_heat
from benchcalc.studies.remedies import remedies
from benchcalc.thermal.network.curves import STEFAN_BOLTZMANN_W_M2K4, conductivity
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.tool.model import model_of
from benchcalc.thermal.tool.parts import Piece, Place, Tool, Winding


def coaxial_discs(apart_m, radius_m):
    """View factor of two equal coaxial discs, Incropera et al., table 13.2."""
    s = 2 + (apart_m / radius_m) ** 2
    return 0.5 * (s - np.sqrt(s * s - 4))


def pair_by_pair(radius_m, edges_m, shine, emitted_w_m2):
    """Net heat that a disc, each ring and a disc at the far end give off, W: radiosities of an enclosure.

    shine: emissivity of each, discs first and last. emitted_w_m2: sigma T^4 of each.
    """
    area, n = np.pi * radius_m**2, len(edges_m) - 1

    def seen(a, b):
        return area * coaxial_discs(abs(a - b), radius_m)

    ways = np.zeros((n + 2, n + 2))
    for i in range(n):
        for j in range(i + 1, n):
            a, b, c, d = edges_m[i], edges_m[i + 1], edges_m[j], edges_m[j + 1]
            ways[i + 1, j + 1] = ways[j + 1, i + 1] = seen(b, c) - seen(b, d) - seen(a, c) + seen(a, d)
        ways[i + 1, i + 1] = 2 * np.pi * radius_m * (edges_m[i + 1] - edges_m[i]) - 2 * (
            area - seen(edges_m[i], edges_m[i + 1])
        )
        ways[0, i + 1] = ways[i + 1, 0] = seen(edges_m[0], edges_m[i]) - seen(edges_m[0], edges_m[i + 1])
        ways[-1, i + 1] = ways[i + 1, -1] = seen(edges_m[-1], edges_m[i + 1]) - seen(edges_m[-1], edges_m[i])
    ways[0, -1] = ways[-1, 0] = seen(edges_m[0], edges_m[-1])
    areas = ways.sum(axis=1)
    assert areas[0] == pytest.approx(area, rel=1e-9) and areas[1] == pytest.approx(
        2 * np.pi * radius_m * (edges_m[1] - edges_m[0]), rel=1e-9
    )
    factor = ways / areas[:, None]
    leaving = np.linalg.solve(np.eye(n + 2) - (1 - shine)[:, None] * factor, shine * emitted_w_m2)
    return areas * (leaving - factor @ leaving)


def watts_along(radius_m, length_m, shine, wall_k, disc_k):
    """Our model's heat past the disc and past each ring, W, and where: its bore's points at their own balance.

    A rod ends in the mouth of a tube, another (black) closes it. shine: emissivity of disc and wall. wall_k: function
    of the place; disc_k: of the disc; the far end is as warm as the last ring.
    """
    metal, wide = conductivity("metal", 20.0), 2 * radius_m - 1e-6
    end_m = 0.03 + length_m
    rod = Piece("rod", "stem", 0.0, 0.03, 0.0, wide, metal, 3e6, shine[0])
    tube = Piece("tube", "tube", 0.03, end_m, 2 * radius_m, 2 * radius_m + 2e-3, metal, 3e6, shine[1])
    end = Piece("end", "stem", end_m, end_m + 0.01, 0.0, wide, metal, 3e6, 1.0)
    winding = Winding("rod", 0.005, 0.025, 0.02, 0.021, 20.0, 1.0)
    model = model_of(Tool((rod, tube, end), winding, (), None, Place()))
    cells = {t.name: model.node[i][model.node[i] >= 0] for i, t in enumerate(model.tracks)}
    edges_m = model.mesh.edges_m[0] - 0.03
    edges_m = edges_m[(edges_m > -1e-9) & (edges_m < length_m + 1e-9)]
    kelvin = np.full(len(model.net.names), 293.15)
    kelvin[cells["tube"]] = wall_k((edges_m[1:] + edges_m[:-1]) / 2)
    disc, last = cells["rod"][-1], cells["end"][0]
    kelvin[disc], kelvin[last] = disc_k, kelvin[cells["tube"][-1]]
    field = cells["bore 1"]  # its balance is linear in the fourth powers
    ways = np.zeros((kelvin.size, kelvin.size))
    rays = model.net.rays
    np.add.at(ways, (rays.first, rays.second), rays.exchange_w_k4)
    ways += ways.T
    matrix = np.diag(ways[field].sum(axis=1)) - ways[np.ix_(field, field)]
    others = np.setdiff1d(np.arange(kelvin.size), field)
    kelvin[field] = np.linalg.solve(matrix, ways[np.ix_(field, others)] @ kelvin[others] ** 4) ** 0.25
    off = [(ways[n, field] * (kelvin[n] ** 4 - kelvin[field] ** 4)).sum() for n in [disc, *cells["tube"]]]
    return np.cumsum(off), edges_m


@pytest.mark.parametrize("radius_m, disc, wall", [(0.004, 0.5, 0.3), (0.0062, 0.5, 0.5), (0.0062, 0.9, 0.8)])
def test_heat_along_the_bore_is_that_of_pairs(radius_m, disc, wall):
    """At temperatures that fall off along the wall as a tube's do: watts past the disc, and past one to four radii."""

    def wall_k(place_m):
        return 300 + 350 * np.exp(-place_m / 0.03)

    ours, edges_m = watts_along(radius_m, 0.06, (disc, wall), wall_k, 700.0)
    fine = np.linspace(0, 0.06, 121)
    kelvin = np.concatenate([[700.0], wall_k((fine[1:] + fine[:-1]) / 2), [wall_k(0.059)]])
    shine = np.concatenate([[disc], np.full(120, wall), [1.0]])
    exact = np.cumsum(pair_by_pair(radius_m, fine, shine, STEFAN_BOLTZMANN_W_M2K4 * kelvin**4))
    assert ours[0] == pytest.approx(exact[0], rel=0.04)
    for radii in (1.0, 2.0, 4.0):
        there = np.interp(radii * radius_m, edges_m, ours), np.interp(radii * radius_m, fine, exact[:-1])
        assert 0.97 < there[0] / there[1] < 1.19


@pytest.mark.parametrize("radii, passes", [(10.0, 0.1910), (20.0, 0.1109), (40.0, 0.0602)])
def test_a_long_bore_passes_what_clausing_says(radii, passes):
    """From a black disc to a cold black end, along a wall that gives back all that it gets (Clausing's table)."""
    radius = 0.004
    ours, _ = watts_along(radius, radii * radius, (1.0, 1e-9), lambda x: np.full(x.size, 300.0), 700.0)
    most = STEFAN_BOLTZMANN_W_M2K4 * np.pi * radius**2 * (700.0**4 - 300.0**4)
    assert ours[0] / most == pytest.approx(passes, rel=0.07)


def test_an_open_bore_warms_the_handle_and_a_plug_cools_it():
    build = bc.change(bc.load_chosen("foil_iron"), "room.air_speed_m_s", 0.0)
    _, wire, coil = bc.links(build)
    open_, shut = (work_heat(bc.change(build, "heat.bore_open", x), wire, coil) for x in (1.0, 0.0))
    assert 2.0 < open_.entry_c - shut.entry_c < 12.0 and open_.wire_c < shut.wire_c
    both = work_heat(bc.change(build, "heat.bore_open", np.array([1.0, 0.0, 0.5])), wire, coil)
    assert both.entry_c[:2] == pytest.approx([open_.entry_c, shut.entry_c], abs=1e-4)
    assert shut.entry_c < both.entry_c[2] < open_.entry_c
    assert abs(steady(open_.model.net).balance_w) < 1e-8


def test_a_plug_stands_among_the_remedies():
    by = {r.words: r for r in remedies(bc.load_chosen("foil_iron"))}
    assert by["bore plugged behind the coil"].entry_c < by["as it is, no holes"].entry_c
