"""A set point that full power does not reach: what the sensor reads instead, why, and what would reach it."""

import numpy as np

from ...basics.names import said_number, say
from ...sheet.build_control import switch_of
from ...thermal.control.held_run import reading_of

LEAST_K, LEAST_SHARE = 1.0, 0.02  # what is not worth a word


def beyond_reach(build, parts, found):
    """A set point that is out of reach, told.

    build: Build with a controller. parts: (supply, wire, coil, heat) of the chain. found: ControlPart with the readings
    at full power.
    Returns dict of fields of ControlPart: refused, with the reading with low and high mains; beyond, what parts it from
    the metal on the coil's whole watts, and what would bring it within reach.
    """
    way, standing, place = {"degrees": build.degrees}, found.standing, found.place
    set_c, full, low = (say("temp_c", c, **way) for c in (found.set_c, found.full_c, found.low_c))
    refused = f"The set point of {set_c} is out of reach: at full power the sensor settles at {full}"
    refused += f"{_mains(found, way)}, and the power stays on for ever."
    needed, ways = standing.share_for(found.set_c), []
    if np.isfinite(needed):
        most_w, needed_w = parts[1].most_in_coil_w, needed * found.on_w
        how = "more volts: no coil takes so much here" if needed_w > most_w else "less wire in the coil or more volts"
        ways.append(f"{say('on_w', needed_w)} through that switch, by {how}")
    metal_c = float(reading_of(standing.seat.watch, standing.settled(1.0))[place])
    if metal_c > found.full_c + LEAST_K:
        ways.append(f"a sensor that reads nearer to the {place}'s {say('temp_c', metal_c, **way)}")
    ways.append(f"a set point below {low}, so that low mains reach it too")
    return {"refused": refused, "beyond": f"{_apart(build, *parts[2:], found)} It takes {', or '.join(ways)}."}


def _mains(found, way):
    """The reading with low and high mains, in brackets; "" where the mains are held."""
    if found.high_c - found.low_c < LEAST_K:
        return ""
    ends = (said_number("temp_c", c, **way) for c in (found.low_c, found.high_c))
    return " ({} with low mains, {} with high ones)".format(*ends)


def _apart(build, coil, heat, found):
    """What lies between the metal on all of the coil's watts and the reading, a sentence."""
    way, place, seat = {"degrees": build.degrees}, found.place, found.standing.seat
    metal_c = float(reading_of(seat.watch, found.standing.settled(1.0))[place])
    whole_c, steps = float(getattr(heat, f"{place}_c", np.nan)), []
    if found.on_w < (1 - LEAST_SHARE) * coil.coil_w and np.isfinite(whole_c):
        whole_w = say("coil_w", coil.coil_w)
        steps.append(f"the coil's whole {whole_w} bring the {place} to {say('temp_c', whole_c, **way)}")
        steps.append(f"the switch ({switch_of(build)}) leaves {say('on_w', found.on_w)} of them")
    steps.append(f"the {place} comes to {say('temp_c', metal_c, **way)}")
    if abs(metal_c - found.full_c) > LEAST_K:
        at = say("length_m", seat.at_m, units=build.units)
        lower = "less" if found.full_c < metal_c else "more"
        steps.append(f"the sensor, {build.sensor.fixed} {at} from the tip's end, reads {lower} than that")
    return f"{steps[0][:1].upper()}{'; '.join(steps)[1:]}."
