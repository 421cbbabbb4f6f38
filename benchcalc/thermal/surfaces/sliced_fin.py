"""A fin cut into slices and solved as a network: what the formula of `fins` must agree with."""

from ..network.curves import conductivity, loss_curve
from ..network.network import bar, held, network, node, skin
from ..network.steady import steady


def far_end_by_slices(near_rise_k, part_length_m, section_m2, edge_m, conductivity_w_mk, loss_w_m2k, *, slices=60):
    """Rise over the room at the far end of a fin whose end loses nothing, by slices instead of by formula.

    near_rise_k: rise at its hot end. part_length_m: of the fin. section_m2: its cross-section. edge_m: circumference
    that loses heat. conductivity_w_mk: of its metal, the same all along. loss_w_m2k: convection and radiation together,
    for each kelvin. slices: pieces of equal length, each at one temperature, 2 or more.
    Returns far_rise_k.  The heat enters half a slice before the middle of the first one; the error falls with the
    square of the number of slices: 0.03 % for 60 slices of a fin three reaches long.

    >>> f"{far_end_by_slices(100.0, 0.030, 7.07e-6, 9.42e-3, 15.0, 10.0):.1f}"
    '70.1'
    """
    room_c = 20.0
    metal = conductivity("fin", conductivity_w_mk)
    cooled = loss_curve("skin", lambda temp_c: loss_w_m2k * (temp_c - room_c), room_c)
    slice_m = part_length_m / slices
    pieces = [held("hot end", room_c + near_rise_k)] + [node(str(i)) for i in range(slices)]
    pieces += [bar("hot end", "0", 2 * section_m2 / slice_m, metal)]
    pieces += [bar(str(i), str(i + 1), section_m2 / slice_m, metal) for i in range(slices - 1)]
    pieces += [skin(str(i), edge_m * slice_m, cooled) for i in range(slices)]
    return float(steady(network(*pieces))[str(slices - 1)]) - room_c
