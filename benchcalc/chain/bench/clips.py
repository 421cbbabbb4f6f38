"""Clipping the supply to bare wire: how short a piece may be, and how hot each piece gets.  No physics here."""

import numpy as np

from ...sheet.build import Build
from ...thermal.surfaces.bare_wire import Feed, Surroundings, long_wire_temp, wire_emissivity
from ..supply.link import SupplyPart
from ..wire.link import WirePart

MOST_C = 400.0  # bare wire is first seen to glow in the dark from about here (data/glow.csv)
STEADY = "cuni-44"  # its ohms hardly rise when it is hot
LONGEST_M, SHORTEST_M, POINTS = 100.0, 0.01, 400


def clip_temp(build: Build, supply: SupplyPart, wire: WirePart, length_m):
    """How hot bare wire gets between the clips, once settled.

    build: Build (floats), for its room. supply, wire: results of the links. length_m: between the clips, m, float
    or array.
    Returns degC, as length_m; nan where it would pass 1400.  Still air, which is the hotter case, whatever the draught
    of the sheet.
    Limits and source: thermal.surfaces.bare_wire.long_wire_temp.
    """
    around = Surroundings(wire_emissivity(wire.alloy), build.room.ambient_c)
    feed = Feed(load_v=supply.open_v * supply.form, length_m=np.asarray(length_m, float), source_ohm=supply.source_ohm)
    alloy = wire.alloy or STEADY  # nobody knows it: the hotter answer is that of ohms that do not rise
    return long_wire_temp(wire.edge_m / np.pi, wire.linear_ohm_per_m, alloy, feed, around)


def clip_lengths(build: Build, supply: SupplyPart, wire: WirePart, fuse_a=np.nan, there_m=np.inf):
    """Lengths to clip at, none of which gets hotter than MOST_C or draws more than supply and fuse allow.

    build: Build (floats). supply, wire: results of the links. fuse_a: rating of the fuse in the lead, A, or nan.
    there_m: how much of the wire there is, m, inf where nobody says.
    Returns array of three lengths in m, longest first, fewer where the piece is hardly longer than the shortest; empty
    where no length up to 100 m, or none that there is, is cool enough.
    """
    lengths = np.geomspace(SHORTEST_M, LONGEST_M, POINTS)
    cool = clip_temp(build, supply, wire, lengths) <= MOST_C
    most_a = np.fmin(np.inf if supply.limit_a is None else supply.limit_a, fuse_a)
    cool &= ~(supply.open_v * supply.form / (supply.source_ohm + lengths * wire.linear_ohm_per_m) > most_a)
    hot = np.flatnonzero(~cool)
    first = 0 if not len(hot) else hot[-1] + 1  # every longer piece is cool too
    if first == POINTS:
        return np.zeros(0)
    whole = 1.0 if np.isnan(wire.length_m) else wire.length_m
    longest = max(whole, 2.5 * lengths[first])
    shortest = max(0.35 * longest, lengths[first])
    if there_m >= longest:
        return np.array([longest, 0.6 * longest, shortest])
    shortest = max(0.35 * there_m, lengths[first])
    if there_m < 1.05 * shortest:
        return np.array([there_m] if there_m >= shortest else [])
    return np.array([there_m, (there_m + shortest) / 2, shortest])
