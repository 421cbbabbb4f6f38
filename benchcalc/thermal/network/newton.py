"""Newton's method on a network that is assembled: each step scaled, the error left told from the steps."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ...basics.fault import fault
from .balance import lost, skin_value, slot_value, working
from .curves import ABSOLUTE_ZERO_C
from .network import node_number

LONGEST_STEP_K = 600.0
CLOSE_ENOUGH_K = 1e-6  # told with a hundredfold reserve
MOST_STEPS = 60
TRIALS_K = 1500.0 * np.linspace(0.0, 1.0, 16) ** 2  # above the coldest that is known: where a start is looked for


@dataclass(frozen=True, eq=False)
class Steady:
    """Steady state: temps_c (..., nodes) in the network's order, power in, power lost, Newton steps.

    lost_w is what surfaces and held temperatures take up, less what held temperatures give;
    balance_w is power in minus power lost: what the solution leaves open.
    """

    names: tuple
    temps_c: np.ndarray
    power_w: float
    lost_w: float
    balance_w: float
    iterations: int

    def __getitem__(self, name):
        """Temperature of a node (degC) by name or number; an array over designs where there are many."""
        return self.temps_c[..., node_number(self, name)]


def steady_of(net, banded, power_w, *, start_c=None):
    """The Newton loop of steady(), on a network that is assembled already.

    net: Network. banded: its Banded. power_w: W of each node (n,). start_c: as in steady().
    Returns Steady.
    """
    from scipy.linalg.blas import idamax
    from scipy.linalg.lapack import dgbsv, dgbtrs

    half, n = banded.half, banded.free.size
    heat, heat_and_stiffness = working(banded, half)
    power = power_w[banded.free]
    given = power + banded.fixed_w
    into = np.empty(n)
    total_w = float(power.sum())
    if start_c is None:
        temps = np.full(n, np.interp(total_w, *uniform_loss(banded)))
    else:
        temps = np.array(np.broadcast_to(np.asarray(start_c, dtype=float), len(net.names))[banded.free])
    count, moved, left = 0, np.inf, np.inf
    while n and left > CLOSE_ENOUGH_K:
        if count == MOST_STEPS or moved != moved:
            raise fault(
                "steady state",
                f"{count} steps",
                "found no balance.",
                "A conductance may be many powers of ten larger than the others.",
                "Look at the links of the hottest nodes.",
            )
        matrix = heat_and_stiffness(temps, given, into)
        factors, pivots, step, info = dgbsv(half, half, matrix.T, into, 1, 1)
        if info:
            raise fault("steady state", net.names[banded.free[info - 1]], "has a temperature that nothing settles.")
        before, moved = moved, abs(float(step[idamax(step)]))
        if moved > LONGEST_STEP_K:
            step *= LONGEST_STEP_K / moved
        temps += step
        np.maximum(temps, ABSOLUTE_ZERO_C, out=temps)
        left = error_left(moved, before)
        count += 1
        if left > CLOSE_ENOUGH_K >= error_repeated(moved, before):
            heat(temps, given, into)
            step, _ = dgbtrs(factors, half, half, into, pivots)
            temps += step
            left = left if abs(float(step[idamax(step)])) > 0.1 * left else 0.0  # a tenth: ten times what is expected
    everywhere = net.held_c.copy()
    everywhere[banded.free] = temps
    lost_w = float(lost(banded, temps))
    return Steady(net.names, everywhere, total_w, lost_w, total_w - lost_w, count)


@lru_cache(maxsize=16)
def uniform_loss(banded):
    """What the whole network loses at a few uniform temperatures: a coarse curve, to start from.

    banded: Banded.
    Returns losses in W and temperatures in degC.
    """
    trial_c = banded.coldest_c + TRIALS_K
    loss_w = np.full(trial_c.size, -banded.fixed_w.sum())
    for slot in banded.slots:
        if slot.out.size and slot.kind != "ramps":
            loss_w += slot_value(slot, trial_c) * slot.to_held.sum()
        elif slot.out.size:
            loss_w += slot_value(slot, np.repeat(trial_c[:, None], slot.b - slot.a, axis=1)) @ slot.to_held
    if banded.all_skins is not None:
        loss_w += skin_value(banded.all_skins, trial_c[:, None])
    return loss_w, trial_c


def error_repeated(moved_k, before_k):
    """Error left after one more step with the same matrix: the error before it, times twice the share by which the last
    step has changed the matrix.

    moved_k, before_k: as error_left.
    Returns K, with a hundredfold reserve; infinite while the method is not yet closing in.
    """
    share = moved_k / before_k
    return 2 * share**2 * 100 * moved_k**3 / before_k**2 if share < 0.1 and before_k <= LONGEST_STEP_K else np.inf


def error_left(moved_k, before_k):
    """Error left after a Newton step: it shrinks with the square of the step, at the rate seen.

    moved_k, before_k: K, length of this step and of the one before.
    Returns K, with a hundredfold reserve; the step itself while the method is not yet closing in.
    """
    closing = moved_k < 0.1 * before_k and before_k <= LONGEST_STEP_K
    return min(moved_k, 100 * moved_k**3 / before_k**2) if closing else moved_k
