"""Coil: turns, pitch, layers, room, the smallest former.  Lengths of helices; floats or arrays.

All turns of a coil of k layers are counted at their mean diameter, which is exact when each
layer has the same number of turns.
"""

import numpy as np


def mean_diameter(former_m, diameter_m, layers=1, between_m=0.0):
    """Mean diameter of the turns, wire centre to wire centre, over all layers.

    former_m: outside diameter of the former with its insulation. diameter_m: wire diameter
    (thickness for ribbon laid flat). layers: 1, 2, ... between_m: insulation between layers.
    Returns mean_diameter_m.
    """
    mean_diameter_m = former_m + diameter_m + (layers - 1) * (diameter_m + between_m)
    return mean_diameter_m


def turn_length(mean_diameter_m, pitch_m):
    """Length of wire in one turn of a helix.

    mean_diameter_m: mean diameter of the turn. pitch_m: advance for each turn.
    Returns turn_m.  Equation: Pythagoras on the unrolled turn.
    """
    turn_m = np.sqrt((np.pi * mean_diameter_m) ** 2 + pitch_m**2)
    return turn_m


def number_of_turns(length_m, turn_m):
    """Turns that a length of wire makes.

    length_m: wire that heats. turn_m: length of one turn.
    Returns turns.
    """
    turns = length_m / turn_m
    return turns


def winding_length(turns, pitch_m, diameter_m, layers=1):
    """Length of the winding along the former, outer edges of the wire.

    turns: over all layers. pitch_m: advance for each turn. diameter_m: wire diameter (width for
    ribbon laid flat). layers: 1, 2, ...
    Returns winding_m.
    """
    winding_m = turns / layers * pitch_m + diameter_m
    return winding_m


def turn_gap(pitch_m, diameter_m):
    """Air between neighbouring turns of a layer.

    pitch_m: advance for each turn. diameter_m: wire diameter (width for ribbon).
    Returns gap_m; negative means that the turns would overlap.
    """
    gap_m = pitch_m - diameter_m
    return gap_m


def room_for(former_length_m, ends_m, anchor_turns, diameter_m):
    """Room for the winding once the ends are kept free and the anchor turns are laid.

    former_length_m: length of the former. ends_m: kept free at each end. anchor_turns: close
    turns that hold each end (bound down, touching). diameter_m: wire diameter.
    Returns room_m; negative when the ends alone are too much.
    """
    room_m = former_length_m - 2 * (ends_m + anchor_turns * diameter_m)
    return room_m


def anchor_wire(anchor_turns, mean_diameter_m):
    """Wire used up by the anchor turns of both ends; they touch, so they hardly heat.

    anchor_turns: at each end. mean_diameter_m: mean diameter of a turn.
    Returns anchor_m.
    """
    anchor_m = 2 * anchor_turns * np.pi * mean_diameter_m
    return anchor_m


def wire_to_cut(length_m, anchor_m, tail_m):
    """Wire to cut: what heats, what anchors, and two tails.

    length_m: heated length. anchor_m: both anchors. tail_m: one tail, if it is of the same wire.
    Returns cut_m.
    """
    cut_m = length_m + anchor_m + 2 * tail_m
    return cut_m


def turn_resistance(cold_ohm, turns):
    """Cold resistance of one turn: the step by which the reading falls when two turns touch.

    cold_ohm: cold resistance of the coil. turns: number of turns.
    Returns one_turn_ohm.
    """
    one_turn_ohm = cold_ohm / turns
    return one_turn_ohm


def watts_by_percent(coil_w, hot_ohm, source_ohm):
    """What one per cent more ohms in the coil does to its watts, on a line that sags.

    coil_w: power in the coil. hot_ohm: coil, hot. source_ohm: supply, cable and tails.
    Returns percent_w for each per cent; below 0 where the coil has more ohms than all the rest.
    Equation: slope of P = U^2 R/(R_s + R)^2: dP/P = (R_s - R)/(R_s + R) dR/R.  Not where a current limit acts.
    """
    percent_w = coil_w / 100 * (source_ohm - hot_ohm) / (source_ohm + hot_ohm)
    return percent_w


def pitch_to_fill(length_m, mean_diameter_m, room_m, diameter_m, layers=1):
    """Pitch that spreads a length of wire evenly over the whole room.

    length_m: wire that heats. mean_diameter_m: of the turns. room_m: room along the former.
    diameter_m: wire diameter. layers: 1, 2, ...
    Returns pitch_m; inf where the wire is shorter than the room (no turn is needed to fill it),
    nan where there is no room at all.
    Equation: N p = L_r - d and l = N sqrt((pi D_m)^2 + p^2), solved for p.
    """
    along = layers * (room_m - diameter_m)
    with np.errstate(divide="ignore", invalid="ignore"):
        pitch_m = np.pi * mean_diameter_m * along / np.sqrt(np.maximum(length_m**2 - along**2, 0.0))
    return np.where(np.asarray(along) > 0, pitch_m, np.nan)


def layers_needed(length_m, former_m, diameter_m, along_m, pitch_m, most=20):
    """Fewest layers in which a length of wire fits into the room at a given pitch.

    length_m: wire that heats. former_m: outside of the former with its insulation. diameter_m: wire (thickness of
    ribbon). along_m: room along the former, less the wire's size along it. pitch_m: smallest pitch to be used. most:
    layers to be tried.
    Returns int, or None where not even `most` would do.  No insulation between the layers is counted.
    """
    for layers in range(1, most + 1):
        turn_m = turn_length(mean_diameter(former_m, diameter_m, layers), pitch_m)
        if number_of_turns(length_m, turn_m) / layers * pitch_m <= along_m * (1 + 1e-9):
            return layers
    return None


def smallest_former(length_m, diameter_m, along_m, pitch_m, bend_ratio, layers=1, between_m=0.0):
    """Smallest former on which a length of wire fits in the room at a given pitch.

    length_m: wire that heats. diameter_m: wire (thickness of ribbon). along_m: room along the former, less the
    wire's size along it (the diameter of round wire, the width of ribbon). pitch_m: smallest pitch to be used.
    bend_ratio: former over wire diameter, at least. layers, between_m: as `mean_diameter`.
    Returns smallest_former_m (inf where there is no room for a turn).
    """
    most_turns = layers * along_m / pitch_m
    with np.errstate(divide="ignore", invalid="ignore"):
        turn_m = np.where(most_turns > 0, length_m / most_turns, np.inf)
    mean_m = np.sqrt(np.maximum(turn_m**2 - pitch_m**2, 0.0)) / np.pi
    former_m = mean_m - diameter_m - (layers - 1) * (diameter_m + between_m)
    return np.maximum(former_m, bend_ratio * diameter_m)
