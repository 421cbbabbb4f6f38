"""Batteries: how long a charge lasts under a heater."""


def run_time(charge_a_s, usable, load_a):
    """How long a battery lasts.

    charge_a_s: what its label says, ampere-seconds, above 0. usable: share of it that is really there, 0-1: age, cold
    and large currents take theirs. load_a: current, A, above 0.
    Returns run_s.  A resistive load draws a little less as the battery sags, so this errs on the short side.
    Equation: charge is current times time (definition of the ampere-hour).
    """
    run_s = charge_a_s * usable / load_a
    return run_s


def charge_of(energy_j, open_v):
    """The charge in a battery whose label tells its energy.

    energy_j: J, above 0. open_v: full, with no load: more than the volts that the label was made with, so this errs on
    the short side.
    Returns charge_a_s.
    Equation: energy is charge times volts (definition of the volt).
    """
    charge_a_s = energy_j / open_v
    return charge_a_s
