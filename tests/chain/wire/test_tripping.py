"""A coil that asks a brick for more than its limit: no heat is told, no watt is called fine."""

import pytest

import benchcalc as bc
from benchcalc.chain.wire.coil import TRIPPED
from benchcalc.show.supply.panel import supply_panel
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


def test_an_alloy_that_the_sheet_does_not_name_is_shown_as_such_and_can_be_chosen_again():
    build = bc.read(
        '[sheet]\nname = "x"\n[supply]\nkind = "switching supply"\nopen = "19 V"\nlimit = "3.42 A"\n[[wire]]\n'
        'id = "w"\ndiameter = "0.4 mm"\nmeasured_ohm = "8.9 ohm"\nmeasured_length = "1 m"\n'
        '[coil]\nwire = "w"\nlength = "1 m"\n'
    )
    shown = wire_panel(build)
    box = shown.handles["wire.w.alloy"]
    assert box.label == "the sheet names none" and not shown.moved()
    shown.set("wire.w.alloy", "nicr-80-20")
    assert shown.moved() == {"wire.w.alloy": "nicr-80-20"}
    shown.set("wire.w.alloy", None)
    assert not shown.moved() and box.label == "the sheet names none"


def test_a_brick_loses_what_nobody_typed_and_holds_its_volts_whatever_the_mains():
    build, _ = on_a_brick(1.2)
    shown = supply_panel(build)
    assert "supply.mains" not in shown.handles and "what it loses itself" in shown.view.value
    shown.handles["supply.load_ohm"].value = shown.handles["supply.load_ohm"].max
    assert "goes from" in shown.told.value and "page 00" not in shown.told.value  # no sheet holds a load to look at
