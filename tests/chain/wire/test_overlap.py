"""A winding that cannot be made is told so: turns that would lie in one another, and the layers that would do."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

import benchcalc as bc
from benchcalc.heater.coil import layers_needed
from benchcalc.show.wire.coil_numbers import coil_caption, coil_numbers


def with_pitch(pitch_m, length_m):
    build = bc.load_chosen("insert_press")
    return bc.change(bc.change(build, "coil.length_m", length_m), "coil.pitch_m", pitch_m)


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("length_m, room", [(0.733, "within the room"), (5.0, "more than the room")])
def test_turns_that_would_overlap_do_not_fit(length_m, room):
    build = with_pitch(0.1e-3, length_m)
    workings = bc.work_out(build, samples=20)
    side = next(v for v in workings.of("coil") if v.what == "turns side by side")
    close = bc.say("winding_m", workings.coil.winding_m)
    assert side.state == "over" and room in side.why and close in side.why and "layer" in side.why
    assert not any(v.what == "length of the winding" and v.state == "fine" for v in workings.of("coil"))
    caption = coil_caption(coil_numbers(build, (workings.supply, workings.wire, workings.coil)))
    assert "does not fit" in caption and "it fits" not in caption
    # side by side: as many turns as the wire makes at a pitch of its own diameter
    mean, wire = workings.coil.mean_diameter_m, workings.wire.diameter_m
    turns = length_m / np.hypot(np.pi * mean, wire)
    assert workings.coil.winding_m == pytest.approx((turns + 1) * wire, rel=1e-9)


@given(st.floats(0.1, 10.0), st.floats(3e-3, 20e-3), st.floats(0.1e-3, 0.6e-3), st.floats(10e-3, 60e-3))
def test_so_many_layers_take_the_wire_and_one_fewer_does_not(length_m, former_m, wire_m, along_m):
    pitch = 2 * wire_m

    def holds(layers):  # wire in full layers, each a helix on its own diameter, by integration along it
        made = 0.0
        for k in range(layers):
            radius = (former_m + wire_m) / 2 + k * wire_m
            made += quad(lambda z, r=radius: np.hypot(1, 2 * np.pi * r / pitch), 0, along_m)[0]
        return made

    layers = layers_needed(length_m, former_m, wire_m, along_m, pitch)
    if layers is None:
        assert holds(20) < length_m * 1.002
    else:
        assert holds(layers) > length_m * 0.998 and (layers == 1 or holds(layers - 1) < length_m * 1.002)


def test_a_wire_as_long_as_the_room_of_its_winding_is_asked_about():
    """By hand: a turn on 6.5 mm takes more than 20 mm, and two are wound tight: what was measured is no wire of it."""
    press = bc.load_chosen("insert_press")
    room_m = bc.work_out(press, samples=0).coil.room_m
    for length_m, asked in ((room_m, True), (room_m * 0.8, True), (room_m / 2, False)):
        build = bc.change(bc.change(press, "coil.length_m", float(length_m)), "coil.pitch_m", None)
        (told,) = [v for v in bc.work_out(build, samples=0).of("coil") if v.what == "turns on the former"]
        assert told.state == "over" and ("Did you mean the winding" in told.why) == asked
