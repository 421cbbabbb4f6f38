"""All tests, two pytest runs at a time, then the speed tables alone, so that nothing disturbs what they time.

Run from the project's root: `.venv/bin/python tests/run.py`. Options are handed on to each run. A run's report is
printed when it ends; the status is 0 only if every run that had tests passed them all.
"""

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).parents[1]
OF_THEIR_OWN = ("tests/browser", "tests/notebooks", "tests/studies", "tests/speed")
# longest first: a run that ends leaves its place to the next one
IN_PAIRS = (
    ["tests/browser"],
    ["tests", *(f"--ignore={path}" for path in OF_THEIR_OWN)],
    ["tests/notebooks"],
    ["tests/studies"],
    ["notebooks"],
)
ALONE = ["tests/speed"]
NO_TESTS = 5  # pytest's own status where options leave a run without tests


def run(arguments, options):
    """Run pytest with these arguments, print its report whole, and return its status."""
    command = [sys.executable, "-m", "pytest", *arguments, *options]
    done = subprocess.run(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    sys.stdout.write(done.stdout.decode("utf-8", "replace"))
    sys.stdout.flush()
    return 0 if done.returncode == NO_TESTS else done.returncode


def main(options):
    """Every run's report in turn; 0 if all passed."""
    with ThreadPoolExecutor(max_workers=2) as two_at_a_time:
        statuses = list(two_at_a_time.map(lambda arguments: run(arguments, options), IN_PAIRS))
    statuses.append(run(ALONE, options))
    return int(any(statuses))


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
