"""A coil that asks a brick for more than its limit: no heat is told, no watt is called fine."""

import pytest

import benchcalc as bc
from benchcalc.chain.wire.coil import TRIPPED
from benchcalc.show.wire.panel import wire_panel


def on_a_brick(length_m):
    build = bc.read(
        '[sheet]\nname = "x"\n[supply]\nkind = "switching supply"\nopen = "19 V"\nlimit = "3.42 A"\n'
        '[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ndiameter = "0.4 mm"\n'
        f'[coil]\nwire = "w"\nlength = "{length_m} m"\non = "stem"\nmounting = "bench tool core in a tube"\n'
        '[[part]]\nid = "tip"\nrole = "tip"\nmaterial = "copper"\nfrom = "0 mm"\nto = "30 mm"\nouter = "6 mm"\n'
        '[[part]]\nid = "stem"\nrole = "stem"\nmaterial = "mild steel"\nfrom = "30 mm"\nto = "80 mm"\nouter = "6 mm"\n'
        '[[joint]]\nbetween = ["tip", "stem"]\nmade = "threaded"\n'
    )
    return build, bc.work_out(build, samples=0)


def test_no_heat_and_no_surface_load_are_told_where_the_supply_trips():
    _, short = on_a_brick(0.15)
    told = {v.what: v for _, v in short.verdicts}
    assert told["current that the coil asks for"].state == "over"
    assert told["surface load of the wire"].state == "not known" and short.heat.refused == TRIPPED
    hot = [v for link, v in short.verdicts if link in ("heat", "metals", "handle")]
    assert hot and all(v.state in ("not known", "over", "does not apply") for v in hot)
    _, long = on_a_brick(1.2)
    assert not long.heat.refused and long.heat.tip_c > 100


def test_the_panel_says_what_it_makes_if_it_holds_its_limit_instead():
    build, short = on_a_brick(0.15)
    shown = wire_panel(build).view.value
    held_w = 3.42**2 * short.coil.hot_ohm  # by hand, Joule's law
    assert f"or {bc.say('coil_w', held_w)}" in shown and "0 W/cm2" not in shown
    assert held_w == pytest.approx(15, abs=5)
