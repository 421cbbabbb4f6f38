"""All tests, several pytest runs at a time: more than there are cores, since a browser mostly waits.

Run from the project's root: `.venv/bin/python tests/run.py`. Options are handed on to each run. A run's report is
printed when it ends, with the seconds it took; the status is 0 only if every run that had tests passed them all.
Each run does its arithmetic in one thread, so that they do not wait for each other. Tables of speed are printed from
one round beside other runs: for numbers worth reading run tests/speed alone.
"""

import os
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from subprocess import PIPE, STDOUT, run

ROOT = Path(__file__).parents[1]
AT_A_TIME = 3
ONE_THREAD = dict.fromkeys(("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"), "1")
# longest first: a run that ends leaves its place to the next one
OF_THEIR_OWN = (
    ("tests/browser",),
    ("tests/show",),
    ("notebooks",),
    ("tests/thermal", "tests/published", "tests/heater"),
    ("tests/notebooks", "tests/speed"),
    ("tests/studies",),
)
THE_REST = ("tests", *(f"--ignore={path}" for paths in OF_THEIR_OWN for path in paths))
NO_TESTS = 5  # pytest's own status where options leave a run without tests


def one_run(arguments, options):
    """Run pytest with these arguments, print its report whole, and return its status."""
    start = time.monotonic()
    command = [sys.executable, "-m", "pytest", *arguments, *options]
    done = run(command, cwd=ROOT, env=os.environ | ONE_THREAD, stdout=PIPE, stderr=STDOUT, check=False)
    sys.stdout.write(done.stdout.decode("utf-8", "replace"))
    sys.stdout.write(f"{' '.join(arguments)}: {time.monotonic() - start:.0f} s\n")
    sys.stdout.flush()
    return 0 if done.returncode == NO_TESTS else done.returncode


def main(options):
    """Every run's report in turn; 0 if all passed."""
    browser, *others = OF_THEIR_OWN
    with ThreadPoolExecutor(max_workers=AT_A_TIME) as at_a_time:
        statuses = list(at_a_time.map(lambda one: one_run(one, options), (browser, THE_REST, *others)))
    return int(any(statuses))


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
