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
