"""Write the invented logs of data/logs/: the demos' networks, inputs a little off, a bead that reads low, noise.

python tests/invented_logs.py
"""

from pathlib import Path

import numpy as np

import benchcalc as bc
from benchcalc.chain.heat.in_time import warming
from benchcalc.thermal.network.warm_up import warm_up

LOGS = Path(__file__).resolve().parents[1] / "data" / "logs"
SAID = "# Invented log, nobody measured it: made by the network of the demo {demo} with {how}; seed {seed}."


def readings(demo, changes, times_s, low_share, seed, noise_k, steps=None):
    """Temperatures of a bead on the demo's tip.

    demo: name. changes: dict of path -> value. times_s: s (n,). low_share: of the rise that the bead does not see.
    seed, noise_k: of the scatter. steps: ((time_s, share of the power), ...) or None.
    Returns degC (n,), power in W.
    """
    build = bc.load_chosen(demo)
    for path, value in changes.items():
        build = bc.change(build, path, value)
    out = bc.work_out(build, samples=0)
    run = warming(build, out.wire, out.coil, out.heat, until_s=60.0)
    tip = next(p.id for p in build.part if p.role == "tip")
    net = run.model.net
    power = None if steps is None else [(t, net.power_w * share) for t, share in steps]
    temps = run.model.along(tip, warm_up(net, float(times_s[-1]), power=power).at(times_s))[1][:, 0]
    read = temps - low_share * (temps - temps[0])
    return read + np.random.default_rng(seed).normal(0, noise_k, read.size), out.coil.coil_w


def write(name, lines):
    """Write a log.  name: of the file. lines: its lines."""
    LOGS.mkdir(exist_ok=True)
    (LOGS / name).write_text("\n".join(lines) + "\n", encoding="utf-8")


def short():
    """Five minutes by hand and stopwatch."""
    times = np.arange(0, 301, 20.0)
    temps, _ = readings("insert_press", {"room.air_speed_m_s": 0.25}, times, 0.12, 11, 1.0)
    write(
        "insert_press_short.csv",
        [
            SAID.format(demo="insert_press", how="more draught and a bead that reads 12 % of the rise low", seed=11),
            "time, temperature degC",
        ]
        + [f"{int(t // 60)}:{int(t % 60):02d}, {x:.0f}" for t, x in zip(times, temps)],
    )


def stepped():
    """Full power for 25 minutes, then half."""
    times = np.arange(0, 2701, 15.0)
    temps, watts = readings(
        "insert_press", {"room.air_speed_m_s": 0.25}, times, 0.12, 12, 0.6, ((0.0, 1.0), (1500.0, 0.5))
    )
    write(
        "insert_press_step.csv",
        [
            SAID.format(demo="insert_press", how="the same draught and bead, half power after 25 min", seed=12),
            "time_s,power W,tip degC",
        ]
        + [f"{t:.0f},{watts * (1 if t < 1500 else 0.5):.1f},{x:.1f}" for t, x in zip(times, temps)],
    )


def faulty():
    """A cheap logger over midnight, with all that can go wrong."""
    times = np.arange(0, 1501, 10.0)
    temps, _ = readings("foil_iron", {"room.air_speed_m_s": 0.1}, times, 0.03, 13, 0.7)
    lines = [
        SAID.format(demo="foil_iron", how="less draught, a peened bead 3 % low, and faults put in by hand", seed=13),
        "clock;tip °C;room °C",
    ]
    room = 21 + np.random.default_rng(14).normal(0, 0.1, times.size)
    held = None
    for i, (t, x) in enumerate(zip(times, temps)):
        s = int(86400 - 425 + t) % 86400
        cell = f"{x:.1f}"
        if i == 17:
            cell = "OL"
        if i == 33:
            cell = "1372.0"
        if 48 <= i < 56:
            held = held or cell
            cell = held
        if i in (70, 71, 72, 73):
            continue
        if i >= 136:
            cell = f"{31 - 0.3 * (i - 136):.1f}"
        clock = f"{s // 3600:02d}:{s // 60 % 60:02d}:{s % 60:02d}"
        lines.append(f"{clock};{cell};{room[i]:.1f}".replace(".", ","))
        if i == 90:
            lines.append(lines[-1])
    write("foil_iron_faults.csv", lines)


if __name__ == "__main__":
    short()
    stepped()
    faulty()
