"""Samples about a nominal tool, worked out by what they differ from it: on a coarser mesh, beside the fine one."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.band import band_of
from benchcalc.basics.slices import finished
from benchcalc.chain.heat.link import nominal_heat, work_heat
from benchcalc.chain.heat.tool_of import tool_of
from benchcalc.chain.workings import chain, drawn_builds
from benchcalc.thermal.tool import alike

PRESS = bc.chosen("insert_press").read_text(encoding="utf-8")
STEEP = ("tails_c", "carried_w")  # they fall by some 14 K/mm behind the winding
ENDS, STEEP_ENDS = 0.015, 0.02  # of the band's width
MANY = 1000  # samples: of two hundred the end of a band is told so coarsely that 3 % can show by chance
NARROW = 0.01  # of the value: a narrower band is not looked at


def typed(*lines):
    text = PRESS
    for old, new in lines:
        assert old in text
        text = text.replace(old, new, 1)
    return bc.read(text)


def long_and_hot():
    """A press whose tube is longer by 12 cm and whose wire is half as long."""
    build = bc.load_chosen("insert_press")
    for path in ("part.tube.to_m", "part.handle.from_m", "part.handle.to_m"):
        build = bc.change(build, path, bc.get(build, path) + 0.12)
    return bc.change(build, "coil.length_m", build.coil.length_m / 2)


def in_doubt():
    """A press whose handle, seam, wall and wire are all known badly."""
    return typed(
        ('from = "120 mm"', 'from = "120 mm +- 3 mm"'),
        ('to = "30 mm"  ', 'to = "30 mm +- 2 mm"  '),
        ('inner = "8.1 mm"', 'inner = "8.1 mm +- 0.3 mm"'),
        ('diameter = "0.28 mm"', 'diameter = "0.28 mm +- 0.02 mm"'),
    )


TOOLS = {
    **{name: lambda name=name: bc.load_chosen(name) for name in ("insert_press", "foil_iron", "wax_pot")},
    "long and hot": long_and_hot,
    "in doubt": in_doubt,
}


def sampled(build, samples=200):
    """(nominal HeatPart, what the samples are worked out by)."""
    own = chain(build)
    drawn = drawn_builds(build, own.heat, own.wire, samples)
    _, wire, coil = bc.links(drawn)
    return own.heat, (drawn, wire, coil)


def told(heat):
    """Everything the link tells of a tool."""
    numbers = {name: value for name, value in vars(heat).items() if isinstance(value, float | np.ndarray)}
    numbers.pop("balance_w"), numbers.pop("temps_c", None)
    return numbers | {f"hottest {id}": t for id, t in zip(heat.part_ids, heat.part_hottest_c)}


def ends_moved(build, samples=200):
    """How far the ends of each band move on the coarse mesh, over its width: {what: share}; {} for a tool that has no
    heat, or is left to the fine mesh."""
    one, given = sampled(build, samples)
    near = nominal_heat(one)
    many = None if near is None else work_heat(*given, near=near)
    if many is None or many.refused or not any(seen is not None for seen in near.seen.values()):
        return {}
    fine, near = told(work_heat(*given)), told(many)
    off = {}
    for key, nominal in told(one).items():
        if np.isfinite(nominal) and np.ptp(fine[key]) > NARROW * max(abs(nominal), 1e-3):
            true, found = (band_of(nominal, many[key]) for many in (fine, near))
            off[key] = max(abs(true.low - found.low), abs(true.high - found.high)) / (true.high - true.low)
    return off


@pytest.mark.parametrize("name", TOOLS)
def test_ends_of_bands_are_those_of_the_fine_mesh(name, table):
    off = ends_moved(TOOLS[name](), MANY)
    worst = sorted(off, key=off.get)[-3:]
    words = ", ".join(f"{key} {off[key]:.4f}" for key in reversed(worst))
    table("spread on a coarse mesh: how far a band's ends move, over its width", [f"{name:14s} {words}"])
    assert len(off) > 6 and all(share <= (STEEP_ENDS if key in STEEP else ENDS) for key, share in off.items())


@pytest.mark.parametrize("name", ["insert_press", "foil_iron", "wax_pot"])
def test_the_nominal_among_its_samples_is_itself(name):
    build = bc.load_chosen(name)
    own = chain(build)
    watts = own.coil.coil_w * np.array([1.0, 0.3, 1.0])
    near = nominal_heat(own.heat)
    many = work_heat(build, own.wire, own.coil, watts, near=near)
    assert near.seen and many.model.net is None
    for key, nominal in told(own.heat).items():
        if np.isfinite(nominal):
            assert np.asarray(told(many)[key])[[0, 2]] == pytest.approx(nominal, abs=2e-4), key


@pytest.mark.parametrize("name", ["insert_press", "foil_iron", "wax_pot"])
def test_samples_are_settled_to_a_fiftieth_of_a_kelvin(name, monkeypatch):
    """Newton's method stops where its own error has a hundredfold reserve; here it goes on to the last digits."""
    one, given = sampled(bc.load_chosen(name))
    soon = told(work_heat(*given, near=nominal_heat(one)))
    monkeypatch.setattr(alike, "CLOSE_K", 1e-7)
    late = told(work_heat(*given, near=nominal_heat(one)))
    for key in (k for k in late if k.endswith("_c") or k.startswith("hottest")):
        assert soon[key] == pytest.approx(late[key], abs=0.02, nan_ok=True), key


def test_samples_hotter_than_the_tables_have_longer_ones(monkeypatch):
    """What surfaces shed is tabled up to some multiple of the nominal's rise: the same answers as with all of it."""
    build = bc.load_chosen("insert_press")
    own = chain(build)
    for most, tables in ((1.2, 1), (4.0, 2)):
        grains, model_of = [], alike.model_of
        with monkeypatch.context() as patch:
            patch.setattr(alike, "model_of", lambda tool, grain: (grains.append(grain), model_of(tool, grain))[1])  # noqa: B023
            watts = own.coil.coil_w * np.array([0.5, most])
            short = work_heat(build, own.wire, own.coil, watts, near=nominal_heat(own.heat))
        assert len(grains) == 1 + tables  # the nominal's own is the first
        with monkeypatch.context() as patch:
            patch.setattr(alike, "TABLED", 1e6)
            whole = work_heat(build, own.wire, own.coil, watts, near=nominal_heat(own.heat))
        assert np.array_equal(short.temps_c, whole.temps_c)


def test_rises_stay_above_the_room_and_in_order():
    build = bc.load_chosen("foil_iron")
    own = chain(build)
    watts = own.coil.coil_w * np.geomspace(0.001, 3.0, 40)
    temps = work_heat(build, own.wire, own.coil, watts, near=nominal_heat(own.heat)).temps_c
    assert (temps[:, :-1] > build.room.ambient_c).all() and (np.diff(temps[:, :-1], axis=0) > 0).all()


def test_no_power_is_a_tool_as_warm_as_its_room():
    """Within what a room between two points of a surface's table leaves open."""
    build = bc.load_chosen("insert_press")
    own = chain(build)
    rooms = bc.change(build, "room.ambient_c", np.array([15.0, 25.0]))
    many = work_heat(rooms, own.wire, own.coil, np.zeros(2), near=nominal_heat(own.heat))
    assert many.temps_c == pytest.approx(np.array([[15.0], [25.0]]) + np.zeros(many.temps_c.shape), abs=0.1)


def test_more_doubt_is_never_the_safer_end():
    tops = []
    for doubt in (1, 8, 20):
        one, given = sampled(typed(('from = "120 mm"', f'from = "120 mm +- {doubt} mm"')), 40)
        tops.append(np.percentile(work_heat(*given, near=nominal_heat(one)).entry_c, 95))
    assert tops[0] < tops[1] < tops[2]


def test_parts_in_another_order_are_left_to_the_fine_mesh():
    """Of the groups of samples that share an order the nominal's own goes by the coarse mesh, the others do not."""
    one, given = sampled(typed(('from = "120 mm"', 'from = "120 mm +- 6 mm"')), 40)
    near, fine = work_heat(*given, near=nominal_heat(one)), work_heat(*given)
    kinds = {heat.model.net is None for _, heat in near.groups}
    assert kinds == {True, False} and [n.tolist() for n, _ in near.groups] == [n.tolist() for n, _ in fine.groups]
    for numbers, heat in near.groups:
        exact = heat.model.net is not None
        width = np.ptp(fine.entry_c)
        assert near.entry_c[numbers] == pytest.approx(fine.entry_c[numbers], abs=1e-6 if exact else 0.02 * width)


def test_a_mesh_too_coarse_for_the_nominal_is_not_trusted(monkeypatch):
    one, given = sampled(bc.load_chosen("insert_press"), 12)
    monkeypatch.setattr(alike, "MOST_OFF", 0.01)
    assert finished(nominal_heat(one).settling(tool_of(*given))) is None
    fine, near = work_heat(*given), work_heat(*given, near=nominal_heat(one))
    assert near.model.net is not None and np.array_equal(near.tip_c, fine.tip_c)


def test_tails_past_any_wires_melting_are_left_to_the_fine_mesh():
    """They heat the winding's last cell alone, by as much as it is short."""
    build = bc.load_chosen("insert_press")
    own = chain(build)
    kept = {}
    for watts in (own.coil.coil_w, 300.0):
        near = nominal_heat(work_heat(build, own.wire, own.coil, watts))
        many = work_heat(build, own.wire, own.coil, watts * np.array([0.9, 1.1]), near=near)
        kept[near.temps_c.max() > 1400.0] = many.model.net is not None
    assert kept == {False: False, True: True}


def test_another_tool_is_no_neighbour():
    press, pot = chain(bc.load_chosen("insert_press")), bc.load_chosen("wax_pot")
    own = chain(pot)
    watts = own.coil.coil_w * np.array([0.5, 1.0])
    strange = work_heat(pot, own.wire, own.coil, watts, near=nominal_heat(press.heat))
    assert np.array_equal(strange.work_c, work_heat(pot, own.wire, own.coil, watts).work_c)
    assert nominal_heat(None) is None and nominal_heat(strange) is None
    assert nominal_heat(replace(own.heat, model=None)) is None
