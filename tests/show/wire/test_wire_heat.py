"""How hot the wire gets on the wire page, and whether it glows."""

from dataclasses import replace

import benchcalc as bc
from benchcalc.pages import does_it_glow
from benchcalc.show.panel.sliders import results_at
from benchcalc.show.wire.panel import wire_panel
from benchcalc.show.wire.wire_heat import AT_REST, whether_it_glows, wire_tile


def test_red_heat_begins_where_an_old_handbook_saw_it():
    """Visible red heat: in the dark at 400 degC, in sunlight at 581 degC (an old handbook's table, HEARTH-GLOW); Draper
    (1847) saw every body redden at 525 degC, in the light of a shuttered room."""
    assert whether_it_glows(399.0).startswith("no glow") and "in the dark" in whether_it_glows(401.0)
    assert (
        "twilight" in whether_it_glows(520.0)
        and "daylight" in whether_it_glows(530.0)
        and "sunlight" in whether_it_glows(581.0)
    )


def test_the_panel_tells_the_wire_of_the_settled_tool_at_rest_and_says_so_while_it_moves():
    build = bc.settled(bc.load_chosen("insert_press"))
    spec = wire_panel(build).spec
    length = {"coil.length_m": 0.5}
    moving, resting = (dict(results_at(spec, length, rest).rows)["hottest wire"] for rest in (False, True))
    heat = bc.work_out(bc.change(build, "coil.length_m", 0.5), samples=0).heat
    assert moving == AT_REST and resting == wire_tile(build, heat) and f"{heat.wire_c:.0f} degC" in resting
    assert "long service" in wire_tile(build, replace(heat, wire_c=1200.0))
    assert wire_tile(build, replace(heat, wire_c=1450.0)) == "melts (nickel-chromium 80/20)"
    assert "not known" in wire_tile(build, None)
    told = does_it_glow(build, bc.work_out(build, samples=0)).text
    assert "**Does it glow?**" in told and "Left on at high mains" in told
