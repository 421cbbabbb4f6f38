"""Warm-up logs that nobody wrote, drawn by a seed: other loggers, other lands, other encodings, and faults of all."""

import datetime
import random
from dataclasses import dataclass

import numpy as np

CODES = ("utf-8",) * 4 + ("utf-8-sig", "utf-16", "utf-16-le", "utf-32", "latin-1", "cp1252")
PARTINGS = (",", ";", "\t", " ")
DATES = ("%Y-%m-%d %H:%M:%S", "%d.%m.%Y %H:%M:%S", "%m/%d/%Y %I:%M:%S %p", "%Y-%m-%dT%H:%M:%SZ", "%H:%M:%S")
HEADS = ("degC", "tip °C", "temperature [degC]", "T1 (C)", "tip degF", "K type mV", "", "temp")
LOST = ("OL", "", "---", "NaN", "1372.0", "-200", "err", "#N/A", "1e999", "²", '"', "9" * 30)
FAULTS = ("none",) * 9 + (
    "lost",
    "doubled",
    "backwards",
    "stuck",
    "cut",
    "ragged",
    "power",
    "noise",
    "bytes",
    "flat",
    "text",
)


@dataclass(frozen=True)
class DrawnLog:
    """A log: the bytes of its file, the times (s) and temperatures (degC) behind it, what was done to it, whether a
    plain reading must give them back."""

    raw: bytes
    time_s: np.ndarray
    temp_c: np.ndarray
    done: str
    plain: bool


def drawn_log(seed):
    """The log of a seed.  seed: whole number.  Returns DrawnLog."""
    rng = random.Random(seed)
    count = rng.choice([0, 1, 3, 5, 8, 8, 20, 20, 40, 60, 60, 200])
    step_s = rng.choice([0.5, 1, 5, 10, 20, 60])
    time_s = step_s * np.arange(count, dtype=float)
    end_c, slow_s = rng.uniform(40, 700), rng.choice([0.1, 0.3, 1.0, 3.0]) * max(step_s * max(count, 1), 1.0)
    temp_c = 20 + (end_c - 20) * (1 - np.exp(-time_s / slow_s))
    parted, fault, date = rng.choice(PARTINGS), rng.choice(FAULTS), rng.choice([None, None, *DATES])
    comma = parted != "," and rng.random() < 0.3
    start = datetime.datetime(2031, rng.choice([2, 12]), 28, 23, rng.randint(0, 59))
    times = [
        f"{t:g}" if date is None else (start + datetime.timedelta(seconds=t)).strftime(date) for t in time_s.tolist()
    ]
    head, digits = rng.choice(HEADS), rng.choice([0, 1, 2])
    shown = 1.8 * temp_c + 32 if "degF" in head else temp_c
    cells = [f"{x:.{digits}f}".replace(".", "," if comma else ".") for x in shown]
    if comma:
        times = [t.replace(".", ",") if date is None else t for t in times]
    rows = [[t, c] for t, c in zip(times, cells)]
    _spoil(rng, fault, rows, temp_c)
    lines = [parted.join(row) for row in rows]
    heads = [parted.join(["time s" if date is None else "time", head, *(["power W"] if fault == "power" else [])])]
    lines = [*(["# logger 3"] if rng.random() < 0.2 else []), *(heads if rng.random() < 0.85 else []), *lines]
    code = rng.choice(CODES)
    raw = (rng.choice(["\n", "\r\n"]).join(lines) + "\n").encode(code, "replace")
    if fault == "bytes" and raw:
        raw = bytes(rng.randrange(256) if rng.random() < 0.03 else b for b in raw)
    told = date != DATES[-1] and parted != " " and heads[0] in lines
    plain = fault == "none" and count >= 20 and head in HEADS[:5] and told and (date is None or step_s >= 1)
    return DrawnLog(raw, time_s, temp_c, f"{fault}, {count} rows, {head!r}, {code}, {parted!r}, {date}", plain)


def _spoil(rng, fault, rows, temp_c):
    """Do what goes wrong with a log to its rows, in place."""
    some = sorted(rng.sample(range(len(rows)), min(len(rows), rng.randint(1, 4))))
    if fault == "lost":
        for i in some:
            rows[i][1] = rng.choice(LOST)
    elif fault == "doubled":
        for i in reversed(some):
            rows.insert(i, list(rows[i]))
    elif fault == "backwards":
        rows.reverse()
    elif fault == "stuck":
        for row in rows[len(rows) // 3 :]:
            row[1] = rows[len(rows) // 3][1]
    elif fault == "cut" and rows:
        rows[-1] = [rows[-1][0][: rng.randint(0, 3)]]
    elif fault == "ragged":
        for i in some:
            rows[i] += ["7"] * rng.randint(1, 3)
    elif fault == "power":
        for i, row in enumerate(rows):
            row.append(str(rng.choice([0, 20, 20, 40])) if i % 7 == 0 else "20")
    elif fault == "noise":
        for row, x in zip(rows, temp_c):
            row[1] = f"{x + rng.gauss(0, 30):.1f}"
    elif fault == "flat":
        for row in rows:
            row[1] = "21"
    elif fault == "text":
        for row in rows:
            row[1] = rng.choice(["warm", "hot", "12", "<b>x</b>"])
