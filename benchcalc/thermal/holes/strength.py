"""What holes cost a tube: stress in the webs under a push from the side at the tip, and the stiffness that is left."""

import numpy as np

from .pattern import Pattern, middle_of_wall

STRETCH = 1.5  # extra length that bends over extra length that conducts: 1.5 for few holes, 1.2 to 1.65 in ten patterns
EDGE_OF_HOLE = 3.0  # stress at the edge of one round hole in a wide plate, over the stress far from it (Kirsch 1898)


def section_modulus(outer_m, inner_m):
    """How much bending a whole tube takes for each unit of stress at its outside.

    outer_m, inner_m: diameters.
    Returns section_modulus_m3.  Equation: Z = pi (D^4 - d^4)/(32 D), Young and Budynas, Roark's Formulas for Stress and
    Strain, table A.1.
    """
    section_modulus_m3 = np.pi * (outer_m**4 - inner_m**4) / (32 * outer_m)
    return section_modulus_m3


def bending_of(elastic_modulus_pa, outer_m, inner_m):
    """How stiff a whole tube is against bending: E times I.

    elastic_modulus_pa: of its metal. outer_m, inner_m: diameters.
    Returns bending_n_m2.  Equation: I = pi (D^4 - d^4)/64, Young and Budynas, Roark's Formulas for Stress and Strain,
    table A.1.
    """
    bending_n_m2 = elastic_modulus_pa * np.pi * (outer_m**4 - inner_m**4) / 64
    return bending_n_m2


def web_stress(side_load_n, arm_m, section_modulus_m3, net_share):
    """Bending stress in the webs between the holes, when the tip is pushed from the side.

    side_load_n: push at the tip. arm_m: from the tip to the ring of holes. section_modulus_m3: of the whole tube.
    net_share: as net_share_of, above 0.
    Returns web_pa: nominal stress of the section that is left.  At the edge of a hole it is up to three times as much.
    Equation: sigma = M/Z; any textbook of strength of materials.
    """
    web_pa = side_load_n * arm_m / (section_modulus_m3 * net_share)
    return web_pa


def net_share_of(p: Pattern):
    """Bending strength that a ring of holes leaves, as a share of the whole tube, in its weakest direction.

    p: Pattern.
    Returns ratio; thin wall.  Three holes and more weaken all directions alike, by the share of the wall they take; one
    or two take the outermost metal when it is pushed that way.
    Equation: second moment of a thin ring less its sectors, about the middle of what is left; own derivation.
    """
    half = float(
        np.arcsin(p.hole_m / middle_of_wall(p.outer_m, p.inner_m)) + p.slot_m / middle_of_wall(p.outer_m, p.inner_m)
    )
    if p.holes >= 3:
        return max(0.0, 1 - p.holes * half / np.pi)
    if p.holes == 2:
        return max(0.0, 1 - (2 * half + np.sin(2 * half)) / np.pi)
    left = np.pi - half
    off = np.sin(half) / left  # the middle of what is left moves away from the hole
    moment = np.pi - half - np.sin(2 * half) / 2 - 2 * left * off**2
    return max(0.0, moment / np.pi / (1 + off))


def tip_give(places_m, bending_n_m2, tip_m):
    """How far the tip gives to the side for each newton, the tool held where the stretch ends.

    places_m: rising places along the tool, from where it bends to where it is held. bending_n_m2: E times I between
    them (one fewer). tip_m: place of the tip.
    Returns m for each newton.  Equation: integral of x^2/(E I), x from the tip; Castigliano.
    """
    x = np.asarray(places_m, float) - tip_m
    return float(np.sum((x[1:] ** 3 - x[:-1] ** 3) / 3 / np.asarray(bending_n_m2, float)))


def bare_of(from_m, to_m, clamp_m):
    """How much of a heat break bends, where a handle that holds the tube stiff may cover the rest.

    from_m, to_m: of the break, from the tip, rising. clamp_m: where the handle begins.
    Returns (share of its length that is bare, middle of that in m).
    """
    end_m = np.clip(clamp_m, from_m, to_m)
    return (end_m - from_m) / (np.asarray(to_m) - from_m), (from_m + end_m) / 2


def stiffness_left(give_m_n, extra_m, arm_m, bending_n_m2):
    """Stiffness at the tip that is left with a heat break, as a share of that without.

    give_m_n: of the tool without holes, m for each newton. extra_m: thermal extra length of the break. arm_m: from the
    tip to the middle of the break. bending_n_m2: E times I of the whole tube there.
    Returns ratio.  The break bends like STRETCH times its thermal extra length of whole tube (plane-stress finite
    elements; exact for few holes: 1 + 3f in stretching against 1 + 2f in conduction).
    """
    return give_m_n / (give_m_n + STRETCH * extra_m * arm_m**2 / bending_n_m2)
