"""Evening six: turning it down, holding it, and what fails."""

from ...heater.power import duty_for, relay_life, series_resistor, tapped_volts
from ...thermal.control.tuning import half_rule_constant, half_rule_delay, simc_gain, simc_integral
from .drawing_numbers import stepped
from .exercise import Exercise, Slip


def _resistor(bench, n):
    return bench(series_resistor, **n)


def _gain(bench, n):
    lumped = bench(half_rule_constant, slow_s=n["slow_s"], fast_s=n["fast_s"])
    delay = bench(half_rule_delay, dead_s=n["dead_s"], fast_s=n["fast_s"], window_s=n["window_s"])
    return bench(simc_gain, lumped_s=lumped, full_k=n["full_k"], closed_s=delay, delay_s=delay)


def _integral(bench, n):
    delay = bench(half_rule_delay, dead_s=n["dead_s"], fast_s=n["fast_s"], window_s=n["window_s"])
    return bench(simc_integral, closed_s=delay, delay_s=delay)


def _warm_up(r):
    return {
        "slow_s": stepped(r, 180.0, 400.0, 10.0),
        "fast_s": stepped(r, 10.0, 40.0, 2.0),
        "dead_s": stepped(r, 2.0, 8.0, 1.0),
        "window_s": stepped(r, 1.0, 6.0, 1.0),
        "full_k": stepped(r, 300.0, 500.0, 10.0),
    }


def _later(r):
    numbers = _warm_up(r)
    return {k: numbers[k] for k in ("fast_s", "dead_s", "window_s")}


EXERCISES = (
    Exercise(
        key="tap-for-half",
        title="A tap for fewer watts",
        lane="everyday",
        ask="The coil hangs on {open_v}. Which tap leaves it {power_share} of its watts?",
        draw=lambda r: {"open_v": stepped(r, 12.0, 24.0, 0.5), "power_share": stepped(r, 0.3, 0.7, 0.02)},
        work=lambda bench, n: bench(tapped_volts, **n),
        result="tapped_v",
        slips=(
            Slip(
                "Watts go with the square of the volts: take the root of the share.",
                change=lambda n: n | {"power_share": n["power_share"] ** 2},
            ),
        ),
        hints=("What times itself gives the share?", "Volts times that root."),
        learned="Half the watts is seven tenths of the volts.",
    ),
    Exercise(
        key="resistor-in-line",
        title="A resistor in the line",
        lane="everyday",
        ask="A supply with {source_ohm} inside feeds a coil of {load_ohm}. Which resistor in the line leaves the coil "
        "{power_share} of its watts?",
        draw=lambda r: {
            "source_ohm": stepped(r, 0.4, 1.2, 0.1),
            "load_ohm": stepped(r, 3.0, 8.0, 0.5),
            "power_share": stepped(r, 0.3, 0.7, 0.05),
        },
        work=_resistor,
        result="series_ohm",
        slips=(
            Slip(
                "Watts go with the square of the amps: the amps fall only by the root of the share.",
                change=lambda n: n | {"power_share": n["power_share"] ** 2},
            ),
            Slip("The ohms inside the supply count too.", change=lambda n: n | {"source_ohm": 0.0}),
        ),
        hints=("By which factor do the amps fall? The root of the share.", "All ohms grow by one over that factor."),
        learned="The resistor gets as hot as the coil does not: mount it where it may.",
    ),
    Exercise(
        key="share-of-the-time",
        title="On for how long",
        lane="everyday",
        ask="Full on, the coil takes {on_w}. {wanted_w} hold the tip. What share of the time must it be on?",
        draw=lambda r: {"on_w": stepped(r, 40.0, 90.0, 1.0), "wanted_w": stepped(r, 12.0, 32.0, 1.0)},
        work=lambda bench, n: bench(duty_for, **n),
        result="duty",
        slips=(
            Slip("Upside down: wanted over full.", after=lambda right: 1 / right),
            Slip(
                "The square root belongs to volts, not to time: watts go with the time itself.",
                after=lambda right: right**0.5,
            ),
        ),
        hints=("Wanted over full.",),
        learned="While it is on the wire gets all of the watts, and all of the amps flow.",
    ),
    Exercise(
        key="life-of-a-relay",
        title="How long a relay lasts",
        lane="everyday",
        ask="A relay may switch {moves} times. It does so once in {window_s}. After how many hours is it due?",
        draw=lambda r: {"moves": stepped(r, 50_000.0, 200_000.0, 10_000.0), "window_s": stepped(r, 2.0, 20.0, 0.5)},
        work=lambda bench, n: bench(relay_life, **n),
        result="contact_life_s",
        slips=(Slip("Seconds, not hours: divide by 3600.", after=lambda right: right * 3600),),
        hints=("Times seconds, then over 3600.",),
        learned="A worn relay may weld shut: full power, for as long as nobody looks. Hence the cut-out.",
    ),
    Exercise(
        key="gain-from-a-warm-up",
        title="Gain from a warm-up",
        lane="why",
        ask="A warm-up at full power ends {full_k} above the room, with time constants of {slow_s} and {fast_s} and "
        "a dead time of {dead_s}; the window is {window_s}. By the half rule and the SIMC rule, as tight as the "
        "delay: how large is the gain? (share of full power for each kelvin; write a plain number or %)",
        draw=_warm_up,
        work=_gain,
        result="gain_per_k",
        slips=(
            Slip(
                "Half of the small constant belongs to the delay, the other half to the large one.",
                change=lambda n: n | {"dead_s": n["dead_s"] + n["fast_s"] / 2},
            ),
        ),
        hints=(
            "Lumped constant: slow + fast/2. Delay: dead + fast/2 + window/2.",
            "Gain: lumped over (end times twice the delay).",
        ),
        learned="It is a start. Look what it does to your tool before you trust it.",
        source="SKOGESTAD-2003",
    ),
    Exercise(
        key="integral-from-a-warm-up",
        title="Integral time",
        lane="why",
        ask="For the same rule: the small constant is {fast_s}, the dead time {dead_s}, the window {window_s}. How "
        "long is the integral time, as tight as the delay?",
        draw=_later,
        work=_integral,
        result="slow_integral_s",
        slips=(
            Slip(
                "Four times the delay and the wanted constant together: eight delays here.",
                after=lambda right: right / 2,
            ),
        ),
        hints=("Delay: dead + fast/2 + window/2.", "Four times (wanted constant + delay), and both are the delay."),
        learned="A short integral time swings, a long one creeps.",
        source="SKOGESTAD-2003",
    ),
)
