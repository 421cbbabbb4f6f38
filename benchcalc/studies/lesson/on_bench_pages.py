"""Predictions of the pages on supply, wire, metals and insulation."""

from ...basics.fault import fault
from ...basics.names import say
from ...chain.insulation.organic_place import ages_where
from ...chain.supply.link import nothing_sized
from ...chain.workings import links
from ...heater import protection, rectified, soak
from ...heater.wire import round_area
from ...materials import ageing, insulation
from ...materials.metals import metal_at, metal_value
from ...sheet.change import change
from ...thermal.surfaces import by_hand
from .prediction import Prediction, Revealed, nearest_choice

WARMEST_TABLE_C = 1000.0  # conductivity of copper is read no hotter


def _half_the_amps(build, workings):
    quarter, half = soak.rise_at_load(60.0, 2.0, 1.0, 0.1), soak.rise_at_load(60.0, 2.0, 1.0, 0.5)
    return Revealed(
        1 if 15.0 < quarter < half else 0,
        f"Of 60 K, {quarter:.0f} to {half:.0f} K are left: the copper's part goes to a quarter, the iron's part stays.",
    )


def _bare_bridge(build, workings):
    shown = 12.0**2 / 8
    real = shown / rectified.true_share("bridge")
    return Revealed(
        nearest_choice(real, (14.6, 18.0, 22.2)),
        f"Not {shown:.0f} W but {real:.1f} W: the meter shows the mean, nine tenths of what the heater feels.",
    )


def _volts_in_the_cable(build, workings):
    lost_v = 2 * protection.cable_resistance(3.0, 0.5e-6)
    return Revealed(
        nearest_choice(lost_v, (0.04, 0.2, 0.4)),
        f"{lost_v:.2f} V, there and back: three metres of cable are six of copper.",
    )


def _same_coil(build, workings, path, value):
    """The coil as it was cut, after one change of the sheet; its watts now over those before.

    Raises Fault: nothing is sized on this supply, or it trips before or after the change.
    """
    why = nothing_sized(workings.supply)
    if why:
        raise fault("supply", "", why)
    pinned = change(build, "coil.length_m", float(workings.coil.length_m))
    after = links(change(pinned, path, value))[2]
    if not (workings.coil.coil_w > 0 and after.coil_w > 0):
        raise fault("supply", "", "gives this coil nothing: it trips, now or after the change.")
    return after, after.coil_w / workings.coil.coil_w


def _tenth_more_volts(build, workings):
    _, times = _same_coil(build, workings, "supply.open_v", 1.1 * workings.supply.open_v)
    share = times - 1
    return Revealed(
        nearest_choice(1 + share, (1.05, 1.10, 1.21)),
        f"{100 * share:.0f} per cent more. Power goes with the square of the volts as long as the ohms stay.",
    )


def _thicker_wire(build, workings):
    times = round_area(1.5 * 0.3e-3) / round_area(0.3e-3)
    return Revealed(
        nearest_choice(times, (1.0, 1.5, 2.25)),
        f"{times:.2f} times: the section grows with the square, so the ohms for each metre fall with the square.",
    )


def _half_the_coil(build, workings):
    half, times = _same_coil(build, workings, "coil.length_m", workings.coil.length_m / 2)
    return Revealed(
        0 if times < 0.75 else 1 if times < 1.1 else 2,
        f"Half of the wire takes {times:.2f} times the watts, {say('surface_load_w_m2', half.surface_load_w_m2)} on "
        f"its surface, where the whole has {say('surface_load_w_m2', workings.coil.surface_load_w_m2)}.",
    )


def _stem(workings):
    if not workings.metals.drops:
        raise fault("metals", "", "carry no heat along this tool.")
    return max(workings.metals.drops, key=lambda d: d.drop_k)


def _copper_stem(build, workings):
    d = _stem(workings)
    middle_c = min(workings.heat.hottest(d.id) - d.drop_k / 2, WARMEST_TABLE_C)
    times = metal_at("copper", "conductivity_w_mk", middle_c).value / d.conductivity_w_mk
    return Revealed(
        0 if times < 1.5 else 1 if times < 5 else 2,
        f"By {times:.1f} times ({d.id}): the drop goes as one over the conductivity, and nothing else changed.",
    )


def _four_times_the_section(build, workings):
    d = _stem(workings)
    thick_k = by_hand.stem_drop(d.through_w, d.part_length_m, d.conductivity_w_mk, 4 * d.section_m2)
    return Revealed(
        nearest_choice(thick_k / d.drop_k, (0.0625, 0.25, 0.5)),
        f"From {say('drop_k', d.drop_k)} to {say('drop_k', thick_k)}; the mass grows fourfold, and so does the wait. A "
        "better metal costs no time, a thicker stem does.",
    )


def _play_gone(build, workings):
    grow = {m: metal_value(m, "expansion_per_k").value for m in ("aluminium", "mild steel")}
    gone_c = 20.0 + 20e-6 / (0.010 * (grow["aluminium"] - grow["mild steel"]))
    said = say("temp_c", gone_c, degrees=build.degrees if build else "C")
    return Revealed(
        0 if gone_c < 120 else 1 if gone_c < 400 else 2,
        f"At {said}; from there on it squeezes, and soft aluminium creeps.",
    )


def _hotter_by_the_gap(build, workings):
    at_wire = workings.heat.wire_c
    now, then = (
        {r.name for r, word in insulation.stays_or_leaves(at_wire + d) if word == "stays"} for d in (0.0, 120.0)
    )
    lost = len(now - then)
    return Revealed(
        0 if lost == 0 else 1 if lost <= 5 else 2,
        f"{len(now)} stay today, {len(then)} then. It would cost: {'; '.join(sorted(now - then)) or 'nothing'}.",
    )


def _ten_kelvin_more(build, workings):
    tens, sixes = (ageing.life_by_halving(10.0, 0.0, k, 1.0) for k in (10.0, 6.0))
    return Revealed(
        nearest_choice(tens, (0.9, 0.7, 0.5)),
        f"{tens:.0%}; and with an interval of six, {sixes:.0%}. Only the difference counts, not where you stand.",
    )


def _enamelled(build, workings):
    _, place, temp_c = ages_where(build, workings.heat, workings.insulation)
    index_c = ageing.enamel_index("MW 35-C")
    way = {"degrees": build.degrees}
    index, here, bare = (say("temp_c", t, **way) for t in (index_c, temp_c, ageing.enamel_index("MW 15-C")))
    return Revealed(
        0 if temp_c <= index_c else 1,
        f"Its index is {index}, and that place ({place}) has {here}. A reel without a label counts as {bare}.",
    )


PREDICTIONS = (
    Prediction(
        key="half-the-amps",
        ask="The load draws half the current of the soak test. What is left of the winding's rise?",
        choices=(
            "a half",
            "between a quarter and two thirds, by how much of it the iron core made",
            "nearly all of it",
        ),
        reveal=_half_the_amps,
    ),
    Prediction(
        key="bare-bridge",
        ask="Twelve volts direct on the meter, behind a bare bridge (four diodes that turn every half wave the same "
        "way, no capacitor to smooth them), across 8 ohm. How many watts really?",
        choices=("about 15 W", "18 W", "about 22 W"),
        reveal=_bare_bridge,
    ),
    Prediction(
        key="volts-in-the-cable",
        ask="Three metres of cable with cores of half a square millimetre, two amps. How many volts stay behind?",
        choices=("a few hundredths", "about 0.2 V", "about 0.4 V"),
        reveal=_volts_in_the_cable,
    ),
    Prediction(
        key="tenth-more-volts",
        ask="The same coil on a supply with a tenth more volts: how many more watts?",
        choices=("about 5 per cent", "about 10 per cent", "about 20 per cent"),
        reveal=_tenth_more_volts,
        needs=("supply", "coil"),
    ),
    Prediction(
        key="thicker-wire",
        ask="The wire one and a half times as thick, the same watts: how many times the length?",
        choices=("the same length", "1.5 times", "more than twice"),
        reveal=_thicker_wire,
    ),
    Prediction(
        key="half-the-coil",
        ask="You cut the coil in half. What becomes of the watts?",
        choices=("about half", "about the same", "more"),
        reveal=_half_the_coil,
        needs=("supply", "coil"),
    ),
    Prediction(
        key="copper-stem",
        ask="A copper part in place of the one that loses most: how much smaller is its drop, at the same watts?",
        choices=("hardly", "two to five times", "more than five times"),
        reveal=_copper_stem,
        needs=("metals", "heat"),
    ),
    Prediction(
        key="four-times-the-section",
        ask="Four times the cross-section, same metal, same length. What is left of the drop?",
        choices=("a sixteenth", "a quarter", "a half"),
        reveal=_four_times_the_section,
        needs=("metals",),
    ),
    Prediction(
        key="play-gone",
        ask="An aluminium plug sits in a steel tube with 20 um of play on 10 mm. When is the play gone?",
        choices=("below 120 degC", "between 120 and 400 degC", "never, it melts first"),
        reveal=_play_gone,
    ),
    Prediction(
        key="hotter-by-the-gap",
        ask="Somebody left the gap out, and the wire runs 120 kelvin hotter. How many of the materials that may stay "
        "today must go?",
        choices=("none", "one to five", "more than five"),
        reveal=_hotter_by_the_gap,
        needs=("heat",),
    ),
    Prediction(
        key="ten-kelvin-more",
        ask="Ten kelvin hotter, with a halving interval of ten. What is left of the life?",
        choices=("nine tenths", "seven tenths", "a half"),
        reveal=_ten_kelvin_more,
    ),
    Prediction(
        key="enamelled",
        ask="An enamelled wire says MW 35-C. May it lie at the place whose life was worked out above?",
        choices=("yes", "no"),
        reveal=_enamelled,
        needs=("heat",),
    ),
)
