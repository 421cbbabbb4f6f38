"""Networks made by hand against printed examples and closed forms; what is refused."""

import numpy as np
import pytest

from benchcalc import Fault
from benchcalc.thermal.network.curves import (
    STEFAN_BOLTZMANN_W_M2K4,
    conduction_integral,
    conductivity,
    conductivity_at,
    loss_at,
    loss_curve,
)
from benchcalc.thermal.network.flows import beyond_data, flows
from benchcalc.thermal.network.network import Bars, Links, Network, bar, face, held, link, network, node, ray, skin
from benchcalc.thermal.network.steady import steady


def rod(count, length_m, area_m2, edge_m, material, h_w_m2k, base_c, air_c, *, tip=True):
    """A rod in air on a hot base, as a network of cells; tip: the end face loses heat too."""
    dx = length_m / count
    cooled = loss_curve("rod", lambda t: h_w_m2k * (t - air_c), air_c, low_c=-40, high_c=600)
    pieces = [held("base", base_c)] + [node(f"{k}") for k in range(count)]
    pieces += [bar("base", "0", 2 * area_m2 / dx, material)]
    pieces += [bar(f"{k}", f"{k + 1}", area_m2 / dx, material) for k in range(count - 1)]
    pieces += [skin(f"{k}", edge_m * dx, cooled) for k in range(count)]
    if tip:
        pieces += face_to_air(f"{count - 1}", area_m2, dx, material, h_w_m2k, air_c)
    return network(*pieces)


def face_to_air(last, area_m2, dx, material, h_w_m2k, air_c):
    return [
        node("end"),
        bar(last, "end", 2 * area_m2 / dx, material),
        held("air", air_c),
        link("end", "air", h_w_m2k * area_m2),
    ]


def base_heat(net):
    """Heat that the hot base gives: all of it is lost from the rod."""
    heat = flows(net, steady(net).temps_c)
    assert -heat.into("base") == pytest.approx(
        heat.skin_w.sum() + (heat.into("air") if "air" in net.names else 0.0), rel=1e-9
    )
    return -heat.into("base")


def test_three_nodes_and_two_links():
    net = network(
        node("coil", 5.0, power_w=10.0),
        node("tip", 20.0),
        held("room", 20.0),
        link("coil", "tip", 0.4),
        link("tip", "room", 0.05),
    )
    at = steady(net)
    # 10 W through 0.05 W/K is 200 K, through 0.4 W/K another 25 K: Ohm's law for heat
    assert [at["coil"], at["tip"], at["room"]] == pytest.approx([245.0, 220.0, 20.0], abs=1e-9)
    assert (at.power_w, at.lost_w) == pytest.approx((10.0, 10.0))


@pytest.mark.parametrize(("k", "watts"), [(398.0, 8.310), (180.0, 5.588), (14.0, 1.558)])
def test_very_long_rods_incropera_3_9(k, watts):
    """Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, 6th ed., Ex 3.9: 8.3, 5.6, 1.6 W.

    The watts here are the example recomputed from its inputs with (T_b - T_inf) sqrt(h p k A).
    """
    d = 5e-3
    long_enough_m = 8 / np.sqrt(100 * 4 / (k * d))
    metal = conductivity("rod", k)
    area = np.pi / 4 * d**2
    net = rod(400, long_enough_m, area, np.pi * d, metal, 100.0, 100.0, 25.0)
    assert base_heat(net) == pytest.approx(watts, rel=5e-4)


@pytest.mark.parametrize(("length_m", "watts"), [(0.025, 0.13965), (2.0, 0.8649)])
def test_copper_pin_kreith_2_6(length_m, watts):
    """Kreith, Manglik and Bohn, Principles of Heat Transfer, 7th ed., Ex 2.6: 0.140 W and 0.865 W (long)."""
    d = 2.5e-3
    net = rod(400, length_m, np.pi / 4 * d**2, np.pi * d, conductivity("copper", 396.0), 10.0, 95.0, 25.0)
    assert base_heat(net) == pytest.approx(watts, rel=1e-3)


def test_plate_fin_holman_2_8():
    """Holman, Heat Transfer, Ex 2-8: 360 W from a metre of depth, corrected length L + t / 2, perimeter 2 (1 m + t)."""
    net = rod(200, 0.075 + 0.0015, 0.003, 2.006, conductivity("aluminium", 200.0), 10.0, 300.0, 50.0, tip=False)
    assert base_heat(net) == pytest.approx(360.4, rel=1e-3)


def test_rod_with_a_radiating_end_nafems_t2():
    """NAFEMS benchmark T2 (one-dimensional heat transfer with radiation): 927.0 K at the end."""
    steel = conductivity("steel", 55.6)
    count, length = 40, 0.1
    pieces = [held("base", 1000 - 273.15), held("around", 300 - 273.15)] + [node(f"{k}") for k in range(1, count + 1)]
    pieces += [bar("base" if k == 1 else f"{k - 1}", f"{k}", count / length, steel) for k in range(1, count + 1)]
    pieces.append(ray(f"{count}", "around", 1.0, 0.98))
    assert steady(network(*pieces))[f"{count}"] + 273.15 == pytest.approx(927.0, rel=1e-4)


def test_two_bars_in_contact_holman_2_11():
    """Holman, Heat Transfer, Ex 2-11: two 304 bars, 30 mm across, 100 mm long: 5.52 W, 4.13 K at the joint."""
    steel, area = conductivity("304", 16.3), np.pi / 4 * 0.03**2
    net = network(
        held("hot", 100.0),
        held("cold", 0.0),
        face("hot", "cold", (area / 0.1, area / 0.1), (steel, steel), contact_w_k=area / 5.28e-4),
    )
    at = steady(net)
    assert (at["hot at cold"] - at["cold at hot"]) == pytest.approx(4.126, rel=2e-3)
    assert flows(net, at.temps_c).between("hot at cold", "cold at hot") == pytest.approx(5.523, rel=2e-3)


def test_chip_on_epoxy_incropera_3_2():
    """Incropera and DeWitt, 6th ed., Ex 3.2: 1e4 W/m2 in a chip, epoxy, 8 mm of aluminium, air both sides: 75.3
    degC."""
    below = 1 / (0.9e-4 + 8e-3 / 239.0 + 1 / 100.0)
    net = network(node("chip", power_w=1e4), held("air", 25.0), link("chip", "air", 100.0), link("chip", "air", below))
    assert steady(net)["chip"] == pytest.approx(75.3, rel=1e-3)


def test_small_resistor_lienhard_2_8():
    """Lienhard and Lienhard, A Heat Transfer Textbook, Ex 2.8: 0.1 W by convection and radiation: 72.3 degC."""
    net = network(
        node("resistor", 0.14, power_w=0.1),
        held("air", 35.0),
        link("resistor", "air", 13.0 * 1.33e-4),
        ray("resistor", "air", 1.33e-4, 0.9),
    )
    assert steady(net)["resistor"] == pytest.approx(72.3, rel=2e-3)


def test_a_hot_wall_thermocouple_cengel_13_12():
    """Cengel, Heat and Mass Transfer, Ex 13.12: reads 650 K in a duct at 400 K when the gas is at 715 K."""
    net = network(
        node("bead"),
        held("gas", 715.0 - 273.15),
        held("duct", 400.0 - 273.15),
        link("bead", "gas", 80.0),
        ray("bead", "duct", 1.0, 0.6),
    )
    assert steady(net)["bead"] + 273.15 == pytest.approx(650.0, rel=5e-4)


def test_conductivity_that_varies_keeps_the_heat_exact():
    """Slab with k = a + b T: heat is the mean conductivity times the drop (Carslaw and Jaeger 1.6), on any mesh."""
    metal = conductivity("metal", (10.0, 20.0), (0.0, 1000.0))
    for count in (2, 7):
        pieces = [held("hot", 800.0), held("cold", 0.0)] + [node(f"{k}") for k in range(1, count)]
        ends = ["hot", *(f"{k}" for k in range(1, count)), "cold"]
        pieces += [bar(a, b, float(count), metal) for a, b in zip(ends, ends[1:])]
        net = network(*pieces)
        first = steady(net)["1"]
        heat = count * (conduction_integral(metal, 800.0) - conduction_integral(metal, first))
        assert heat == pytest.approx(14.0 * 800.0, rel=1e-12)


def test_two_materials_meet_at_their_true_face_temperature():
    """Two layers, both with k(T): the same heat in each, found by scipy's brentq on the face temperature."""
    from scipy.optimize import brentq

    one = conductivity("one", (50.0, 20.0, 25.0), (0.0, 500.0, 900.0))
    two = conductivity("two", (15.0, 27.0), (0.0, 800.0))

    def left_over(t):
        return 3.0 * (conduction_integral(one, 850.0) - conduction_integral(one, t)) - 5.0 * (
            conduction_integral(two, t) - conduction_integral(two, 30.0)
        )

    net = network(held("hot", 850.0), held("cold", 30.0), face("hot", "cold", (3.0, 5.0), (one, two)))
    assert steady(net)["hot at cold"] == pytest.approx(brentq(left_over, 30, 850, xtol=1e-12), abs=1e-8)


def test_conductivity_integral_against_quadrature():
    """scipy.integrate.quad over a table with bends, and beyond its ends where the end value holds."""
    from scipy.integrate import quad

    metal = conductivity("metal", (50.0, 20.0, 25.0), (0.0, 500.0, 900.0))
    for low, high in ((-200.0, 1500.0), (10.0, 499.0), (450.0, 950.0)):
        exact = quad(lambda t: conductivity_at(metal, t), low, high, points=[0, 500, 900], limit=200)[0]
        assert conduction_integral(metal, high) - conduction_integral(metal, low) == pytest.approx(exact, rel=1e-9)


def test_conductivity_never_turns_negative():
    falling = conductivity(
        "steel", (50.0, 8.0), (20.0, 1420.0)
    )  # 50 - 0.03 (T - 20), the line would cross zero at 1687
    assert conductivity_at(falling, 3000.0) == 8.0
    net = network(
        held("sun", 3000.0),
        node("a"),
        held("room", 20.0),
        bar("sun", "a", 1.0, falling),
        bar("a", "room", 1.0, falling),
    )
    at = steady(net)
    assert 20 < at["a"] < 3000
    assert beyond_data(net, at.temps_c) == (("steel", 3000.0, 1420.0),)
    assert beyond_data(net, np.array([1400.0, 800.0, 20.0])) == ()


def test_loss_curve_follows_the_law():
    def law(t):
        return 5.0 * np.abs(t - 20) ** 0.25 * (t - 20) + 0.6 * STEFAN_BOLTZMANN_W_M2K4 * ((t + 273.15) ** 4 - 293.15**4)

    curve = loss_curve("tube", law, 20.0)
    t = np.linspace(40, 1500, 997)
    value, slope = loss_at(curve, t)
    assert value == pytest.approx(law(t), rel=1e-6)
    assert slope == pytest.approx((law(t + 1e-3) - law(t - 1e-3)) / 2e-3, rel=1e-4)
    assert np.abs(loss_at(curve, np.linspace(-40, 40, 333))[0] - law(np.linspace(-40, 40, 333))).max() < 1.0
    ends = loss_at(curve, np.array([-60.0, 1700.0, 1800.0]))
    assert ends[1][1] == ends[1][2] > 0 and (np.diff(ends[0]) > 0).all()


def test_order_of_nodes_does_not_matter():
    """The same random network with its nodes given in different orders (renumbered by Cuthill and McKee)."""
    rng = np.random.default_rng(3)
    names = [f"n{k}" for k in range(30)]
    pairs = [(k, k + 1) for k in range(29)] + [(k, k + 5) for k in range(0, 25, 3)]
    values = rng.uniform(0.1, 2.0, len(pairs))
    metal = conductivity("m", (1.0, 2.0, 1.5), (0.0, 300.0, 600.0))
    pieces = [node(n, 1.0, power_w=float(k % 3)) for k, n in enumerate(names)] + [held("room", 20.0)]
    ways = [bar(names[a], names[b], v, metal) for (a, b), v in zip(pairs, values)]
    ways += [link(n, "room", 0.05) for n in names] + [ray(names[0], names[29], 1e-3, 0.5)]
    first = steady(network(*pieces, *ways))
    shuffled = steady(network(*(pieces[k] for k in rng.permutation(31)), *ways))
    kept = steady(network(*pieces, *ways, station_by_station=True))
    for n in names:
        assert first[n] == pytest.approx(shuffled[n], abs=1e-8) == pytest.approx(kept[n], abs=1e-8)


def test_steady_from_a_start():
    net = network(node("a", power_w=5.0), held("room", 20.0), ray("a", "room", 0.01, 0.8))
    cold = steady(net)
    assert steady(net, start_c=cold.temps_c).iterations <= 1 < cold.iterations
    assert steady(net, start_c=1500.0)["a"] == pytest.approx(cold["a"], abs=1e-6)


def test_flows_add_up_at_every_node():
    curve = loss_curve("s", lambda t: 9.0 * (t - 20), 20.0)
    net = network(
        node("coil", power_w=30.0),
        node("tip"),
        held("room", 20.0),
        link("coil", "tip", 0.2),
        bar("coil", "tip", 0.01, conductivity("m", (10.0, 20.0), (0.0, 500.0))),
        ray("coil", "room", 2e-3, 0.7),
        skin("tip", 5e-3, curve),
    )
    heat = flows(net, steady(net).temps_c)
    assert heat.into("coil") == pytest.approx(-30.0, abs=1e-9)
    assert heat.into("tip") == pytest.approx(0.0, abs=1e-9)
    assert heat.into("room") + heat.off("tip") == pytest.approx(30.0, abs=1e-9)
    assert heat.between("coil", "tip") == pytest.approx(heat.off("tip"), abs=1e-9) == -heat.between("tip", "coil")


def test_nothing_to_solve():
    assert steady(network(held("room", 20.0)))["room"] == 20.0


# what is refused, and in which words
def says(*words):
    return pytest.raises(Fault, match="(?s)" + ".*".join(words))


def test_a_node_linked_to_nothing():
    with says("'b'", "no way for heat", "cannot be told"):
        steady(network(node("a", 1.0), node("b", 1.0), held("room", 20.0), link("a", "room", 1.0)))


def test_power_without_a_way_out():
    with says("'a, b'", "heat without end"):
        steady(
            network(node("a", power_w=1.0), node("b"), link("a", "b", 1.0), held("room", 20.0), link("b", "room", 0.0))
        )


def test_unknown_names_list_the_closest_and_all_faults_come_at_once():
    with says(
        "3 things", "'coil' is the name of two nodes", "'tup' is no node. Closest: tip", "joins a node to itself"
    ):
        network(node("coil"), node("coil"), node("tip"), link("coil", "tup", 1.0), link("tip", "tip", 1.0))


@pytest.mark.parametrize("value", [-1.0, float("nan"), float("inf")])
def test_numbers_that_cannot_be(value):
    room = held("room", 20.0)
    with says("'.*J/K' is no heat capacity"):
        network(node("a", value), room)
    with says("a: '.*W' is no power"):
        network(node("a", power_w=value), room)
    with says("a - room: '.*W/K' is no conductance"):
        network(node("a"), room, link("a", "room", value))
    with says("a - room: .*'.*m' is no shape"):
        network(node("a"), room, bar("a", "room", value, conductivity("m", 1.0)))
    with says("a: '.*m2' is no area"):
        network(node("a"), room, skin("a", value, loss_curve("s", lambda t: t - 20, 20.0)))


def test_other_refusals():
    with says("neither a node nor a link"):
        network(node("a"), "b")
    with says("no nodes"):
        network()
    with says("temperatures that rise"):
        conductivity("m", (1.0, 2.0), (20.0, 20.0))
    with says("above zero"):
        conductivity("m", (1.0, -2.0), (20.0, 200.0))
    with says("falls as the surface gets hotter"):
        loss_curve("s", lambda t: 100 - t, 20.0)
    with says("is not a number"), np.errstate(invalid="ignore"):
        loss_curve("s", lambda t: np.sqrt(t), 20.0)
    with says("'infinite' is no temperature to hold"):
        network(node("a"), held("room", float("inf")))


def test_no_such_node():
    net = network(node("tip", power_w=1.0), held("room", 20.0), link("tip", "room", 1.0))
    with says("'tap' is no node", "tip"):
        steady(net)["tap"]


def test_arrays_instead_of_pieces():
    net = Network(
        ("a", "b", "room"),
        np.zeros(3),
        np.array([2.0, 0.0, 0.0]),
        np.array([np.nan, np.nan, 20.0]),
        links=Links(np.array([1]), np.array([2]), np.array([0.5])),
        bars=Bars(np.array([0]), np.array([1]), np.array([0.1]), np.array([0])),
        materials=(conductivity("m", 2.0),),
    )
    assert steady(net).temps_c == pytest.approx([34.0, 24.0, 20.0])
