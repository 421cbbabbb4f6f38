"""What a controller does with a reading: on-off with a band, or proportional-integral over a window.

A law has no clock and no memory of its own: `decide` takes the state it left last time and gives the next one.
"""

from dataclasses import dataclass, replace
from math import isfinite

import numpy as np

from ...basics.fault import Complaint, Fault, fault
from ...heater.power import on_cycles

ON_OFF, STEADY = "on-off", "proportional-integral"
KINDS = (ON_OFF, STEADY)
LEAST_CYCLES = 10  # of a window: with fewer a share of power is a coarse guess (own judgement)


@dataclass(frozen=True)
class Law:
    """A control law.  set_c: set point. band_k: on-off switches off half a band above the set point and on half a band
    below. look_s: how often on-off looks. window_s: of the proportional-integral law, of whole mains cycles.
    gain_per_k: share of full power for each kelvin below. integral_s: integral time, inf for none. most: largest share
    it may ask for, a clamp."""

    kind: str
    set_c: float
    band_k: float = 4.0
    look_s: float = 0.5
    window_s: float = 2.0
    gain_per_k: float = 0.02
    integral_s: float = 120.0
    most: float = 1.0
    frequency_hz: float = 50.0


@dataclass(frozen=True)
class State:
    """What a law remembers: whether it is on, and the share of power that its integral has gathered."""

    on: bool = True
    gathered: float = 0.0


def checked_law(law):
    """The law, if it can work.

    law: Law.
    Returns Law.  Raises Fault that lists all that is wrong: unknown kind, negative gain, window shorter than a mains
    cycle or, of the proportional-integral law, than ten, no band.
    """
    wrong = []
    if law.kind not in KINDS:
        wrong.append(Complaint("control.kind", law.kind, f"is no law here: {', '.join(KINDS)}."))
    if not np.isfinite(law.set_c):
        wrong.append(Complaint("control.set", "", "is missing.", do='Write set = "350 degC" under [control].'))
    if not law.band_k >= 0:
        wrong.append(Complaint("control.band", f"{law.band_k:g} K", "must be 0 or more."))
    if not law.gain_per_k > 0:
        wrong.append(
            Complaint(
                "control.gain",
                f"{law.gain_per_k:g} per K",
                "must be above 0.",
                "A negative gain heats what is too hot already: it runs away.",
                "Take the gain of the tuning table.",
            )
        )
    if not law.integral_s > 0:
        wrong.append(Complaint("control.integral", f"{law.integral_s:g} s", "must be above 0 s."))
    if not 0 < law.most <= 1:
        wrong.append(Complaint("control.most", f"{law.most:g}", "must be a share above 0 and up to 1."))
    if not law.look_s > 0:
        wrong.append(Complaint("control.look", f"{law.look_s:g} s", "must be above 0 s."))
    if wrong:
        raise Fault(*wrong)
    _, in_all = on_cycles(0.5, law.window_s, law.frequency_hz)
    if law.kind == STEADY and in_all < LEAST_CYCLES:
        raise fault(
            "control.window",
            f"{law.window_s:g} s",
            f"holds {in_all} mains cycles: too few to divide into shares of power.",
            do=f"Take {LEAST_CYCLES / law.frequency_hz:g} s or more.",
        )
    return law


def as_heard(law):
    """The law without what its kind does not listen to, so that laws that do the same are equal.  law: Law."""
    if law.kind == ON_OFF:
        return Law(ON_OFF, law.set_c, law.band_k, law.look_s, most=law.most)
    return replace(law, band_k=Law.band_k, look_s=Law.look_s)


def decide(law, state, read_c):
    """The next pieces of power.

    law: Law. state: State. read_c: what the sensor says, degC; nan (nothing) counts as far too hot: off.
    Returns (State, pieces), pieces a tuple of (seconds, share of full power).
    The integral stands still while the power is at its clamp and would be driven further (conditional integration);
    Astrom and Hagglund, Advanced PID Control, ch. 3.5, integrator windup.
    """
    if not isfinite(read_c):
        return state, ((law.look_s if law.kind == ON_OFF else law.window_s, 0.0),)
    if law.kind == ON_OFF:
        on = read_c < law.set_c + law.band_k / 2 if state.on else read_c <= law.set_c - law.band_k / 2
        return State(bool(on), state.gathered), ((law.look_s, law.most if on else 0.0),)
    error = law.set_c - read_c
    more = state.gathered + law.gain_per_k * law.window_s / law.integral_s * error
    asked = law.gain_per_k * error + more
    if (asked > law.most and error > 0) or (asked < 0 and error < 0):
        more = state.gathered
    on, in_all = on_cycles(min(max(asked, 0.0), law.most), law.window_s, law.frequency_hz)
    length_s = in_all / law.frequency_hz
    if 0 < on < in_all:
        return State(True, more), ((on / law.frequency_hz, 1.0), ((in_all - on) / law.frequency_hz, 0.0))
    return State(on > 0, more), ((length_s, 1.0 if on else 0.0),)


def switches_at(law, state):
    """Where on-off will switch next.

    law: Law of kind on-off. state: State.
    Returns (reading in degC, 1 while it waits for the reading to rise to it, -1 to fall to it).
    """
    half = law.band_k / 2
    return (law.set_c + half, 1) if state.on else (law.set_c - half, -1)
