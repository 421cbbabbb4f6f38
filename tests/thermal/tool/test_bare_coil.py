"""The coil alone in the air: how a helix sees the room, against rays cast from it, and the ends of its band."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.heat.stages import stages
from benchcalc.materials.glow import brightness, line_threshold, threshold
from benchcalc.thermal.tool.bare_coil import turns_see

RAYS = 4000


def seen_by_rays(pitch_m, wire_m, mean_m, rng):
    """Monte Carlo on rings in place of the helix: rays by Lambert's law from one ring in the middle of many, the share
    that meets none.  A ring is met where a ray comes nearer than its half thickness, stepped along the ray."""
    a, big = rng.uniform(0, 2 * np.pi, (2, RAYS))  # place round the wire; round the coil it does not matter
    normal = np.column_stack([np.cos(a), np.zeros(RAYS), np.sin(a)])
    start = np.array([mean_m / 2, 0.0, 0.0]) + wire_m / 2 * normal * 1.0005
    up, sine = np.array([0.0, 1.0, 0.0]), np.sqrt(rng.uniform(0, 1, RAYS))
    side = np.cross(up, normal)
    way = normal * np.sqrt(1 - sine**2)[:, None] + sine[:, None] * (
        np.cos(big)[:, None] * up + np.sin(big)[:, None] * side
    )
    free, reach = np.ones(RAYS, bool), np.arange(0.05 * wire_m, 3 * mean_m, 0.12 * wire_m)
    for s in reach:
        at = start + s * way
        off_m = np.abs((at[:, 2] + pitch_m / 2) % pitch_m - pitch_m / 2)
        free &= np.hypot(np.hypot(at[:, 0], at[:, 1]) - mean_m / 2, off_m) > wire_m / 2
    return free.mean()


@pytest.mark.parametrize("ratio", [1.3, 2.5, 5.0])
def test_helix_against_rays_cast_from_it(ratio):
    """Own Monte Carlo, 4000 rays: within 3 %, which is two deviations and the steps of the rays."""
    cast = seen_by_rays(ratio * 0.3e-3, 0.3e-3, 7e-3, np.random.default_rng(5))
    assert turns_see(ratio * 0.3e-3, 0.3e-3) == pytest.approx(cast, abs=0.03)


def test_touching_turns_are_a_cylinder():
    assert turns_see(1.0, 1.0) == pytest.approx(1 / np.pi) and 0.9 < turns_see(40.0, 1.0) < 1.0


def test_the_coil_alone_has_a_band_and_its_glow_is_told():
    build = bc.load_chosen("foil_iron")
    w = bc.work_out(build, samples=0)
    alone, _, closed = stages(build, w.wire, w.coil)
    assert alone.band.low < alone.wire_c == alone.band.nominal < alone.band.high
    assert alone.band.high - alone.band.low > 100  # nothing on the sheet tells how free the turns stand
    assert "in the dark" in alone.glow and "by day" in alone.glow and "Hidden" in closed.glow


def test_a_thin_wire_must_be_hotter_to_be_seen():
    """Ricco 1877: a tenth of the width wants ten times the brightness; a wide body keeps the handbook's threshold."""
    first_c, _ = threshold("in daylight")
    assert line_threshold("in daylight", 10e-3, 0.3, 6.0) == pytest.approx(first_c)
    whole_m = 0.3 * np.tan(np.radians(6 / 60))
    seen_c = line_threshold("in daylight", whole_m / 10, 0.3, 6.0)
    assert brightness(seen_c) / brightness(first_c) == pytest.approx(10, rel=0.02)
