"""Races against general-purpose peers: rounds alternate in one run, the table is printed at the end, no time is judged.

BENCHCALC_ROUNDS=9 pytest tests/speed     more rounds than the one of the ordinary run: medians that mean something
"""

import os
import time

import numpy as np
import pytest

ROUNDS = int(os.environ.get("BENCHCALC_ROUNDS", "1"))


@pytest.fixture
def race(request, table):
    """Function (contenders) -> their answers: times each contender of {name: function}, ours first, for the table."""

    def run(contenders):
        names, answers = list(contenders), {}
        taken = {name: [] for name in names}
        for turn in range(ROUNDS):
            for name in names if turn % 2 else names[::-1]:
                start = time.perf_counter()
                answers[name] = contenders[name]()
                taken[name].append((time.perf_counter() - start) * 1e3)
        ours = np.array(taken[names[0]])
        rows = [(name, np.median(taken[name]), np.median(np.array(taken[name]) / ours)) for name in names]
        title = request.node.name.removeprefix("test_").replace("_", " ")
        lines = [f"    {name:62s} {taken_ms:10.2f} ms  x {ratio:.2f}" for name, taken_ms, ratio in rows]
        table(f"speed, medians of {ROUNDS} round{'s' * (ROUNDS > 1)}", [title, *lines])
        return {name: answers[name] for name in names}

    return run
