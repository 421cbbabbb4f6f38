"""Fins by hand: how far heat reaches along a rod or tube, and the insulation that cools a thin wire."""

import numpy as np


def reach_of(conductivity_w_mk, section_m2, loss_w_m2k, edge_m):
    """Heat reaches along a rod as far as conduction beats the loss from its surface.

    conductivity_w_mk: of the rod. section_m2: its cross-section. loss_w_m2k: convection and radiation
    together, for each kelvin. edge_m: circumference that loses heat.
    Returns reach_m: over this length of a long rod the rise over the room falls to 37 %.
    Equation: 1/m of the fin equation, m^2 = h P/(k A); Incropera et al., Fundamentals of Heat and Mass
    Transfer, eq. 3.65.
    """
    reach_m = np.sqrt(conductivity_w_mk * section_m2 / (loss_w_m2k * edge_m))
    return reach_m


def far_end_rise(near_rise_k, part_length_m, reach_m):
    """Rise over the room at the far end of a fin whose end loses nothing.

    near_rise_k: rise at its hot end. part_length_m: of the fin. reach_m: as reach_of.
    Returns far_rise_k.  Equation: theta_L = theta_b / cosh(L/reach); Incropera et al., eq. 3.75.
    """
    reaches = part_length_m / reach_m
    far_rise_k = near_rise_k * 2 / (np.exp(reaches) + np.exp(-reaches))
    return far_rise_k


def drained_end_rise(near_rise_k, part_length_m, reach_m, conductivity_w_mk, section_m2, beyond_w):
    """Rise over the room at the far end of a fin from whose end some watts pass on, into a handle for one.

    near_rise_k: rise at its hot end. part_length_m: of the fin. reach_m: as reach_of. conductivity_w_mk, section_m2:
    of its metal. beyond_w: watts that leave by its far end; below 0 come in.
    Returns far_rise_k, below 0 where more is taken than the fin can bring.  Equation: the fin equation with
    -k A dtheta/dx = q at x = L: theta_L = (theta_b - q reach/(k A) sinh(L/reach)) / cosh(L/reach); general solution
    in Incropera et al., eq. 3.71; for q = 0 their eq. 3.75, for a fin that goes on for ever their eq. 3.80.
    """
    reaches = part_length_m / reach_m
    taken_k = beyond_w * reach_m / (conductivity_w_mk * section_m2) * np.sinh(reaches)
    far_rise_k = (near_rise_k - taken_k) / np.cosh(reaches)
    return far_rise_k


def long_fin_foot(near_rise_k, reach_m, conductivity_w_mk, section_m2):
    """Watts that enter a fin so long that its far end stays at the room.

    near_rise_k: rise over the room at its hot end. reach_m: as reach_of. conductivity_w_mk, section_m2: of its metal.
    Returns through_w.  Equation: q = k A theta_b / reach, a fin that goes on for ever; Incropera et al., eq. 3.80.
    """
    through_w = conductivity_w_mk * section_m2 * near_rise_k / reach_m
    return through_w


def tube_section(outer_m, inner_m):
    """Cross-section of the metal of a tube.

    outer_m, inner_m: diameters.
    Returns section_m2.
    """
    section_m2 = np.pi * (outer_m**2 - inner_m**2) / 4
    return section_m2


def critical_radius(conductivity_w_mk, loss_w_m2k):
    """Insulation on a thin wire sheds more heat, not less, up to this radius: more surface beats more thickness.

    conductivity_w_mk: of the insulation. loss_w_m2k: from its outside.
    Returns critical_m.  Equation: r = k/h for a cylinder; Incropera et al., example 3.5.
    """
    critical_m = conductivity_w_mk / loss_w_m2k
    return critical_m
