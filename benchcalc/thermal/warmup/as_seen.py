"""What a probe sees of a tool: a metal hotter than its reading, and stores of heat by how warm each gets."""


def metal_behind(start_c, end_c, low_share):
    """What the metal is at where a probe reads low by a share of the rise.

    start_c: before heating. end_c: as read. low_share: share of the rise that is not seen, 0 to below 1.
    Returns degC.  Equation: reading = start + (1 - share) rise.
    """
    return start_c + (end_c - start_c) / (1 - low_share)


def seen_capacity(parts, place_c, ambient_c):
    """Heat capacity of the parts list as a probe would see it: each part by how warm it gets beside the probe's place.

    parts: things with capacity_j_k and mean_c, the mean that each settles at. place_c: settled temperature at
    the probe, degC. ambient_c: degC.
    Returns J/K.  Exact for one lump and for a probe at the heat; elsewhere a fair guess.
    Equation: own derivation: the area between a linear network's warm-up and its end is the sum of
    C (rise / rise of the heated place)^2.
    """
    rise = place_c - ambient_c
    return float(sum(p.capacity_j_k * ((p.mean_c - ambient_c) / rise) ** 2 for p in parts))
