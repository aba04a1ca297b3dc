"""Times an hour of a simulated rig against scipy's BDF on the same equations.

The equations are those of `tests/cross_check/rig.py`; the relative error of a step and the error
of a pressure that does not matter are the same on both sides. The sides take turns; medians are
compared.

Run from the top of the project, with numpy and scipy installed:

    python benches/rig_against_scipy.py

Ends with status 1 if the simulation is not 20 times as fast.
"""

import platform
import re
import statistics
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests/cross_check"))
import rig  # noqa: E402

TURNS, LEAST, STEP_ERROR, SMALL_PRESSURE = 5, 20.0, 3e-4, 1.5e-3
UNITS = {"ns": 1e-6, "µs": 1e-3, "ms": 1.0, "s": 1e3}


def ours():
    """The median time in ms."""
    command = ["cargo", "bench", "-q", "--bench", "rig", "--", "scipy_s_rig"]
    text = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    row = next(line for line in text.splitlines() if "scipy_s_rig" in line)
    median = re.findall(r"([\d.]+) (ns|µs|ms|s)\b", row)[2]
    return float(median[0]) * UNITS[median[1]]


def scipys():
    """The time in ms."""
    clock = time.perf_counter()
    rig.solve(STEP_ERROR, SMALL_PRESSURE)
    return 1e3 * (time.perf_counter() - clock)


def main():
    turns = [(ours(), scipys()) for _ in range(TURNS)]
    rust, python = (statistics.median(side) for side in zip(*turns, strict=True))
    print(f"Python {platform.python_version()}, numpy {rig.numpy.__version__}, "
          f"scipy {rig.scipy.__version__}; milliseconds, median of {TURNS} turns")
    print(f"this {rust:.2f} | scipy {python:.0f} | times faster {python / rust:.0f}")
    sys.exit(python < LEAST * rust)


if __name__ == "__main__":
    main()
