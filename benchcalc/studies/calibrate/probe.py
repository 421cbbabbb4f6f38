"""Readings on the finished tool: where, when, how warm, how attached; and where the model has that place."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import Complaint, Fault, closest, fault
from ...basics.names import say
from ...basics.tables import rows
from ...sheet.defaults import default

MOST_READINGS = 40  # of one log: more say the same again
SHORTEST_RISE_K = 5.0
CLOCK_S = 5.0  # a melting is seen to within a few seconds
STARTS_S = 30.0  # a log that begins by then is a log from switching on
COLD_K = 15.0  # a log starts cold if its first reading is no more than this above the warmest room
MARKER_ATTACHED = "melting marker"


@dataclass(frozen=True, eq=False)
class Probe:
    """Readings of one sensor: times (s from switching on), temperatures, place; each reading's own deviation,
    and the deviation that all of them share (K).

    attached: key of "sensor.low_share/..." in data/defaults.csv. on: id of the part, None for the metal
    outside at that place. steps: ((time_s, share of the power), ...) of its run, () for steady power.
    """

    name: str
    at_m: float
    time_s: np.ndarray
    temp_c: np.ndarray
    attached: str
    own_k: np.ndarray
    common_k: float
    on: str | None = None
    steps: tuple = ()

    @property
    def low_share(self):
        """Row of data/defaults.csv: the share of the rise by which it reads low."""
        return default(f"sensor.low_share/{self.attached}")


def probe(name, at_m, times_s, temps_c, *, attached="pressed bead", own_k=1.0, steps=()):
    """A sensor's readings, checked and thinned out.

    name: what to call it. at_m: place from the tip, m. times_s: s from switching on (n,). temps_c: degC (n,).
    attached: how, see Probe. own_k: scatter of each reading, K (number or (n,)). steps: ((time_s, share), ...) where
    the power was changed on the way.
    Returns Probe with at most 40 readings, evenly over the time, read with a thermocouple bead of data/instruments.csv.
    Raises Fault: lengths that differ, nothing readable, time before switching on, no rise, an attachment not in the
    table.
    """
    time, temp = (np.atleast_1d(np.asarray(x, float)) for x in (times_s, temps_c))
    if time.shape != temp.shape:
        raise fault(name, f"{time.size} times and {temp.size} temperatures", "do not go together.")
    own = np.broadcast_to(np.asarray(own_k, float), time.shape)
    good = np.isfinite(time) & np.isfinite(temp)
    time, temp, own = time[good], temp[good], own[good]
    wrong = [*_wrong_way(name, attached, own), *_wrong_readings(name, time, temp)]
    if wrong:
        raise Fault(*wrong)
    if time.size > MOST_READINGS:
        keep = np.unique(np.searchsorted(time, np.linspace(time[0], time[-1], MOST_READINGS)).clip(0, time.size - 1))
        time, temp, own = time[keep], temp[keep], own[keep]
    row = next(r for r in rows("instruments") if r["key"] == "thermocouple bead")
    common_k = float(row["floor"]) / np.sqrt(3)
    return Probe(name, float(at_m), time, temp, attached, own, common_k, steps=tuple(tuple(s) for s in steps))


def _wrong_way(name, attached, own):
    """What is wrong with the way a probe was attached, or with its scatter."""
    kinds = [r["key"].split("/")[1] for r in rows("defaults") if r["key"].startswith("sensor.low_share/")]
    wrong = []
    if attached not in kinds:
        wrong.append(
            Complaint(
                f"{name}, attached", attached, "is no way of attaching in data/defaults.csv.", closest(attached, kinds)
            )
        )
    if not np.all(own > 0):
        wrong.append(Complaint(f"{name}, scatter", "", "must be above 0 K."))
    return wrong


def _wrong_readings(name, time, temp):
    """What is wrong with the times and temperatures of a probe."""
    wrong = []
    if time.size == 0:
        wrong.append(Complaint(name, "", "holds no reading.", "Every time or temperature is missing."))
    elif time.min() < 0:
        wrong.append(
            Complaint(name, f"{time.min():g} s", "lies before switching on.", "Time must count from the switch.")
        )
    elif time.size > 2 and time[0] < STARTS_S and np.ptp(temp) < SHORTEST_RISE_K:
        wrong.append(
            Complaint(
                name,
                f"{temp.min():.1f} to {temp.max():.1f} degC",
                "shows no rise.",
                "The probe may have been off the tool, or the supply off.",
            )
        )
    return wrong


def marker_row(material, *, where="marker"):
    """The row of data/markers.csv for a marker.

    material: name or other name. where: for messages.
    Raises Fault with the closest names.
    """
    for row in rows("markers"):
        names = {w.strip().lower() for w in (row["marker"], *(row["also"] or "").split(";"))} - {""}
        if material.strip().lower() in names:
            return row
    raise fault(
        where, material, "is no marker in data/markers.csv.", closest(material, [r["marker"] for r in rows("markers")])
    )


def marker_probe(material, at_m, time_s, *, rising_k_s=0.5):
    """A melting marker that was seen to melt, as a single reading.

    material: of data/markers.csv. at_m: m from the tip. time_s: s from switching on. rising_k_s: how fast
    the place was warming, K/s: the clock's few seconds count for that much.
    Returns Probe: the middle of the melting range, its width and the eye's error as its deviation.
    """
    row = marker_row(material)
    middle = (float(row["low_c"]) + float(row["high_c"])) / 2
    eye, wide = float(row["bench_error_k"]) / np.sqrt(3), (float(row["high_c"]) - float(row["low_c"])) / np.sqrt(12)
    own = np.sqrt(eye**2 + wide**2 + (rising_k_s * CLOCK_S) ** 2)
    return Probe(
        f"{row['marker']} at {say('at_m', at_m)}",
        float(at_m),
        np.array([float(time_s)]),
        np.array([middle]),
        MARKER_ATTACHED,
        np.array([own]),
        0.0,
    )


def log_probe(build, i, times_s, temps_c, *, own_k=1.0, steps=()):
    """The readings of one of a sheet's logs, with its place and the way its probe was attached.

    build: Build. i: number of the log on the sheet. times_s: s from switching on (n,). temps_c: degC (n,).
    own_k, steps: as probe().
    Returns Probe; a log that does not say how its probe was attached counts as a pressed bead.
    Raises Fault: a log without a place.
    """
    log = build.log[i]
    name = log.file or f"log {i + 1}"
    if log.at_m is None:
        raise fault(name, "", "has no place.", "", 'Say where its probe was: at = "..." from the tip.')
    return probe(name, log.at_m, times_s, temps_c, attached=log.attached or "pressed bead", own_k=own_k, steps=steps)


def sheet_markers(build):
    """The markers of a sheet that have material, place and time.

    build: Build.
    Returns tuple of Probe.
    """
    return tuple(
        marker_probe(m.material, m.at_m, m.time_s)
        for m in build.marker
        if m.material is not None and m.at_m is not None and m.time_s is not None
    )


def part_at(tool, at_m, on=None, *, where="reading"):
    """The part that a sensor sits on: the outermost metal at its place.

    tool: Tool. at_m: m from the tip. on: id of the part, to choose another. where: for messages.
    Returns the part's Piece. Raises Fault: beyond the tool, or not on that part.
    """
    metal = (
        [p for p in tool.pieces if not p.work and p.role != "handle"]
        if on is None
        else [p for p in tool.pieces if p.id == on]
    )
    if not metal:
        raise fault(where, on, "is no part of this tool.", closest(on or "", [p.id for p in tool.pieces]))
    here = [p for p in metal if np.max(p.from_m) - 1e-6 <= at_m <= np.min(p.to_m) + 1e-6]
    if not here:
        ends = min(np.min(p.from_m) for p in metal), max(np.max(p.to_m) for p in metal)
        raise fault(
            where,
            say("at_m", at_m),
            f"lies on no metal part; there is metal from {say('at_m', ends[0])} "
            f"to {say('at_m', ends[1])} from the tip.",
        )
    return max(here, key=lambda p: np.max(p.outer_m))


def nodes_at(model, at_m, on=None, number=0):
    """The nodes whose temperatures, weighted, are the temperature of the tool's metal at a place.

    model: Model. at_m: m from the tip. on: id of a part, or None. number: of the design.
    Returns (numbers (2,), weights (2,)): a straight line between the middles of two cells.
    """
    i, places = _track_at(model, at_m, on)
    cells = model.node[i][model.node[i] >= 0]
    places = places[number]
    if places.size == 1:
        return np.repeat(cells, 2), np.array([0.5, 0.5])
    k = int(np.clip(np.searchsorted(places, at_m) - 1, 0, places.size - 2))
    share = np.clip((at_m - places[k]) / (places[k + 1] - places[k]), 0.0, 1.0)
    return cells[k : k + 2], np.array([1 - share, share])


def temps_at(model, temps_c, at_m, on=None):
    """Temperature of the tool's metal at a place, for many designs.

    model: Model. temps_c: (designs, nodes) from the solver. at_m: m from the tip. on: id of a part, or None.
    Returns degC (designs,).
    """
    if not model.designs:
        nodes, weights = nodes_at(model, at_m, on)
        return temps_c[..., nodes] @ weights
    i, places = _track_at(model, at_m, on)
    values = temps_c[:, model.node[i][model.node[i] >= 0]]
    return np.array([np.interp(at_m, x, y) for x, y in zip(places, values)])


def _track_at(model, at_m, on):
    """Number of the track that a sensor sits on, and the middles of its cells (designs, cells)."""
    piece = part_at(model.tool, at_m, on)
    outside = f"{piece.id} skin"
    mine = [
        i
        for i, t in enumerate(model.tracks)
        if (t.name == outside if piece.role == "handle" else t.owner == piece.id and t.mass)
    ]
    return mine[-1], model.mesh.middle_m[:, model.node[mine[-1]] >= 0]
