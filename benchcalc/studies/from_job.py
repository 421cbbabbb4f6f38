"""Start from the job: a first sheet that would do it, the watts it needs, and the readings that would firm it most."""

import re
from dataclasses import dataclass, replace

import numpy as np

from ..basics.band import CENTRAL_PERCENT, Band
from ..basics.fault import Fault, fault
from ..basics.names import say
from ..basics.tables import rows
from ..chain.heat.in_time import power_for
from ..chain.heat.left_on import LEFT
from ..chain.heat.link import work_heat
from ..chain.heat.verdicts import job_row
from ..chain.workings import chain, links, work_out
from ..materials.insulation import rating
from ..sheet.build import Build
from ..sheet.change import change, sample
from ..sheet.defaults import default
from ..sheet.key import ASSUMED
from ..sheet.load import read
from ..sheet.roles import part_with_role
from .first_sheet import HOTTER, FirstGuess, JobShape, SaidWord, first_text

VOLTS_V = (6.0, 9.0, 12.0, 18.0, 24.0)  # no-load volts of supplies that lie about; common practice, no source
WIRES_M = (0.2e-3, 0.25e-3, 0.32e-3, 0.4e-3, 0.5e-3, 0.63e-3)
WANTED_GAP = 1.5  # free gap between turns over the wire; common practice is at least one
SIZES_SHARE, WORK_SHARE = 0.2, 0.15  # own judgement
SAMPLES, SHARE_SAMPLES, SEED, HEAD = 40, 100, 5, '[sheet]\nname = "first"\n'
JOB_LINE = "# Begun from the job: "
ROUNDED = 1.02  # gap of the first sheet over the one advised, so that rounded lengths keep it
TRIES, STEPS, REACH_STEP_M, LONGEST_REACH_M = 4, 6, 0.03, 0.09
SURE_K = 1.0  # aimed above what is wanted, so that a length rounded to the millimetre still reaches it
POWER, LENGTH, STAYS = "want.power_w", "coil.length_m", 0.02
_JOB_NUMBERS = re.compile(r"([\d.]+) degC.*?: about .*?(?:likely\)(?:, ([\d.]+) W of it)?)")
READINGS = (  # what firms an input, by the beginning of its path, and where
    ("supply.", "volts at the supply: with nothing connected, then with amps under a lamp", "group supply"),
    ("wire.", "ohms of a measured length of your wire, and its diameter", "group wires"),
    ("room.", "a thermometer beside the bench, and how the tool lies", "group room, use"),
    ("coil.", "ohms of the finished coil, cold, at the ends of its tails", "group as built"),
    ("part.", "which metal it is (magnet, weight, file) and its finish", "page 03"),
    ("joint.", "a warm-up log at the tip: it holds joints and layers together", "page 06"),
    ("layer.", "a warm-up log at the tip: it holds joints and layers together", "page 06"),
    ("heat.", "a warm-up log at the tip: it holds joints and layers together", "page 06"),
)


@dataclass(frozen=True)
class FromJob:
    """What comes of a job: text of the sheet (without name), Build, watts in the coil with band and the watts of them
    that go into the work, what is wanted (degC), readings as (words, where, share of the doubt that they take away)."""

    text: str
    build: Build
    power_w: Band
    work_w: float
    wanted_c: float
    readings: tuple


def job_temperature(job: str) -> float:
    """The middle of a job's working range, degC.  job: of data/work.csv.  Raises Fault with the closest."""
    row = job_row(job)
    if row is None:
        raise fault(
            "job", job, "is not in data/work.csv.", "One of: " + "; ".join(r["job"] for r in rows("work")) + "."
        )
    return (row["low_c"] + row["high_c"]) / 2


def work_power(job: str, mass_kg: float, time_s: float, wanted_c: float, ambient_c: float = 20.0) -> float:
    """Watts that go into what is melted, over its melting heat and up to the tool's temperature.

    job: of data/work.csv. mass_kg: heated in each time_s (s). wanted_c, ambient_c: degC.
    Returns W: mass (specific heat x rise + latent heat) / time.
    Source: first law; values of data/work.csv.
    """
    row = job_row(job)
    melts = row["latent_j_kg"] if wanted_c >= (row["melting_low_c"] or np.inf) else 0.0
    return mass_kg * (row["specific_heat_j_kgk"] * (wanted_c - ambient_c) + (melts or 0.0)) / time_s


def from_job(
    shape: JobShape,
    size_m: float,
    *,
    job: str = "",
    wanted_c: float | None = None,
    mass_kg: float = 0.0,
    time_s: float = 60.0,
) -> FromJob:
    """A first sheet for a job.

    shape: JobShape. size_m: its size, stated on the sheet where it is a SaidNumber, as wanted_c. job: of data/work.csv,
    or "". wanted_c: degC, where no job says it or another is wanted. mass_kg: what is melted or heated in each
    time_s (s), 0: nothing is told.
    Returns FromJob.  Raises Fault: no job and no temperature, out of reach, a size that is not usual.
    """
    row = job_row(job) if job else None
    target_c = wanted_c if wanted_c is not None else job_temperature(job) if job else None
    if target_c is None:
        raise fault("job", "", "or a temperature is needed: what must melt, or how hot must it be?")
    how = {"job": row["job"] if row else "", "material": SaidWord(row["material"]) if row else ""}
    work_w = work_power(job, mass_kg, time_s, target_c) if row and mass_kg and shape.at != "wire_c" else 0.0
    make = lambda guess: first_text(shape, size_m, target_c, guess, **how)  # noqa: E731
    with np.errstate(all="ignore"):  # supplies and wires that do not fit are tried too
        guess = _stretched(make, size_m, target_c) if shape.at == "wire_c" else _wound(make, shape, target_c, work_w)
    text = make(guess)
    build = read(HEAD + text)
    drawn = sample(build, SAMPLES, SEED)
    watts = _watts(build, drawn, guess.power_w, work_w, shape.at, target_c)
    return FromJob(
        f"{JOB_LINE}{_job_words(how, target_c, watts, mass_kg if work_w else 0.0, time_s, work_w)}\n{text}",
        build,
        watts,
        work_w,
        target_c,
        _readings(build, shape.at),
    )


def _job_words(how, target_c, watts, mass_kg, time_s, work_w):
    """The job and its watts in a line, as the sheet keeps it."""
    low, middle, high = (say("power_w", x) for x in (watts.low, watts.nominal, watts.high))
    much = f", {1000 * mass_kg:.4g} g once in {time_s / 60:.4g} min" if mass_kg else ""
    share = f", {say('power_w', work_w)} of it into what is melted" if work_w else ""
    job = f"{how['job']} at " if how["job"] else ""
    return f"{job}{say('temp_c', target_c)}{much}: about {middle} in the coil ({low} to {high} likely){share}."


def job_line(text: str) -> str:
    """The job that a sheet was begun from, with its watts, as its comment tells it; "" without one.  text: TOML."""
    found = (line.removeprefix(JOB_LINE).strip() for line in text.splitlines() if line.startswith(JOB_LINE))
    return next(found, "")


def followed(text: str, build: Build) -> dict:
    """What the first sheet of a job assumed of power and wire in the coil, for the tool as it stands on the sheet now.

    text: TOML of the sheet, with its job's comment. build: Build of it.
    Returns dict of (section, key) -> text for the sheet, without those that stay within 2 %; empty for a sheet without
    a job, once the maker has typed them, and where no power reaches what is wanted.
    """
    found = _JOB_NUMBERS.search(job_line(text))
    how = {path: build.known[path].how for path in (POWER, LENGTH) if path in build.known}
    if not found or ASSUMED not in how.values() or build.coil is None:
        return {}
    target_c = build.want.tip_c if build.want.tip_c is not None else float(found[1])
    at = "wire_c" if build.coil.on is None else "work_c" if part_with_role(build, "work") is not None else "tip_c"
    told = {}
    try:
        free = change(build, LENGTH, None)
        if how.get(POWER) == ASSUMED:
            _, wire, coil = links(build)
            power_w = round(power_for(build, wire, coil, target_c, at=at) + float(found[2] or 0.0), 1)
            if abs(power_w / build.want.power_w - 1) > STAYS:
                told["want", "power"] = f"{power_w:.4g} W {ASSUMED}"
                free = change(free, POWER, power_w)
        if how.get(LENGTH) == ASSUMED and at != "wire_c":
            length_m = float(links(free)[2].length_m)
            if np.isfinite(length_m) and abs(length_m / build.coil.length_m - 1) > STAYS:
                told["coil", "length"] = f"{1000 * length_m:.4g} mm {ASSUMED}"
    except Fault:
        pass
    return told


def _wound(make, shape, target_c, work_w):
    """Supply and wire of a coil that gives the watts and has room on its former, its turns as far apart as advised: the
    pair whose turns are nearest to the wanted gap; nearer turns only where no pair has more."""
    build = read(HEAD + make(FirstGuess()))
    _, wire, coil = links(build)
    needed_w = power_for(build, wire, coil, target_c, at=shape.at) + work_w
    best, advised = None, default("coil.gap_wire_diameters")["value"]
    for open_v in VOLTS_V:
        source_ohm = max(round(0.1 * open_v**2 / needed_w, 2), 0.02)  # loses about a tenth of its volts under this load
        for wire_m in WIRES_M:
            tried = FirstGuess(open_v, source_ohm, wire_m, round(needed_w, 1))
            made = links(read(HEAD + make(tried)))[2]
            if np.isfinite(made.length_m) and made.spare_m > -1e-9 and made.gap_m > 0.5 * wire_m:
                near = made.gap_m < advised * ROUNDED * wire_m
                loose = near, abs(np.log(made.gap_m / (WANTED_GAP * wire_m)))
                if best is None or loose < best[0]:
                    best = loose, replace(tried, length_m=float(made.length_m))
    if best is None:
        raise fault("first sheet", f"{needed_w:.3g} W", "has no room: no wire tried gives it on this former.")
    return _that_lasts(make, _hot_enough(make, best[1], shape.at, target_c), shape.at, target_c, work_w)


def _hot_enough(make, guess, at, target_c):
    """The guess, with a little more power and the length that gives it where the worked-out tool stays short of it."""
    for _ in range(TRIES):
        build = read(HEAD + make(guess))
        reached_c = getattr(chain(build).heat, at, float("nan"))
        if not reached_c < target_c:
            return guess
        room_c = build.room.ambient_c
        more_w = guess.power_w * (target_c + SURE_K - room_c) / (reached_c - room_c)
        sure = _with_length(make, replace(guess, power_w=float(np.ceil(10 * more_w) / 10)))
        if sure is None:
            return guess
        guess = sure
    return guess


def _with_length(make, guess):
    """The guess with the wire length in the coil that gives its power; None where there is none."""
    length_m = float(links(read(HEAD + make(replace(guess, length_m=None))))[2].length_m)
    return replace(guess, length_m=length_m) if np.isfinite(length_m) else None


def _that_lasts(make, guess, at, target_c, work_w):
    """The guess with insulation that bears its place, and the handle so far off that its wood lasts: what the first
    choice does not bear is chosen anew, a step at a time, and watts and length follow."""
    for _ in range(STEPS):
        build = read(HEAD + make(guess))
        told = work_out(build, samples=0).verdicts
        over = {v.what: v.limit for _, v in told if v.state == "over" and not v.advice}
        better = _better(guess, build, over)
        if better is None:
            return guess
        build = read(HEAD + make(better))
        _, wire, coil = links(build)
        power_w = round(power_for(build, wire, coil, target_c, at=at) + work_w, 1)
        better = _with_length(make, replace(better, power_w=power_w))
        if better is None:
            return guess
        guess = _hot_enough(make, better, at, target_c)
    return guess


def _better(guess, build, over):
    """One choice made anew for what is over (what -> limit); None where nothing of it is the first sheet's choice."""
    if not build.layer:
        return None
    under, above = build.layer[0], build.layer[-1]
    left = [limit_c for what, limit_c in over.items() if what.startswith(LEFT)]
    for field, layer in (("under", under), ("over", above)):
        end = f", {layer.between[0]} to {layer.between[1]}"
        if layer.material not in HOTTER:
            continue
        if any(what.endswith(end) for what in over) or rating(layer.material).limit_c in left:
            return replace(guess, **{field: HOTTER[layer.material]})
    hot_wood = any(what.startswith(("wood at the tube", LEFT)) for what in over)
    if hot_wood and part_with_role(build, "handle") is not None and guess.reach_m < LONGEST_REACH_M:
        return replace(guess, reach_m=guess.reach_m + REACH_STEP_M)
    return None


def _stretched(make, size_m, target_c):
    """Volts that bring a stretched wire to its temperature."""
    from scipy.optimize import brentq

    def off(open_v):
        guess = FirstGuess(open_v=open_v, source_ohm=0.3, length_m=size_m)
        return chain(read(HEAD + make(guess))).heat.wire_c - target_c

    try:
        open_v = brentq(off, 0.5, 45.0, xtol=0.01)
    except ValueError:
        raise fault(
            "first sheet", f"{target_c:.0f} degC", "is out of reach for a wire of this length below 45 V."
        ) from (None)
    guess = FirstGuess(open_v=round(open_v, 1), source_ohm=0.3, length_m=size_m)
    return replace(guess, power_w=round(float(links(read(HEAD + make(guess)))[2].coil_w), 1))


def _watts(build, drawn, power_w, work_w, at, target_c):
    """The watts and their band: the tool's own doubt at these watts, turned round, since rises go nearly with watts.

    Sizes that the first sheet only assumes have no band there: they count as SIZES_SHARE of the watts either way, and
    the heat that the work takes as WORK_SHARE of its own (own judgement), added in squares.
    """
    idle_w = power_w - work_w
    _, wire, coil = links(drawn)
    heat = work_heat(drawn, wire, coil, np.full(SAMPLES, idle_w))
    rises = getattr(heat, at) - drawn.room.ambient_c
    wanted = target_c - build.room.ambient_c
    low, high = np.percentile(rises[np.isfinite(rises) & (rises > 0)], CENTRAL_PERCENT)
    ends = idle_w * min(wanted / high, 1), idle_w * max(wanted / low, 1)
    off_w = (np.hypot(np.hypot(end - idle_w, SIZES_SHARE * idle_w), WORK_SHARE * work_w) for end in ends)
    return Band(power_w, *(float(power_w + sign * off) for sign, off in zip((-1, 1), off_w)))


def _readings(build, at):
    """The three readings that take most of the doubt away, by the shares of the variance of the temperature."""
    try:
        shares = work_out(build, samples=SHARE_SAMPLES).shares(f"heat.{at}").inputs
    except Fault:
        return ()
    found = {}
    for one in shares:
        advice = next(((words, where) for start, words, where in READINGS if one.paths[0].startswith(start)), None)
        if advice is not None:
            found[advice] = found.get(advice, 0.0) + one.share
    total = sum(found.values()) or 1.0
    ordered = sorted(found.items(), key=lambda item: -item[1])[:3]
    return tuple((words, where, share / total) for (words, where), share in ordered)
