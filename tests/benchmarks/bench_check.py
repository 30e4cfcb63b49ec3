"""`housemap check` on the demo house, against the start of Python and the import of its libraries.

What lies between the last two rows is what the check itself adds.
"""

import subprocess
import sys
from functools import partial

from tests.benchmarks.measuring import module, show_ratios, wall_seconds
from tests.support.project import DEMO

RUNS = 7

COMMANDS = {
    "python -c pass": [sys.executable, "-c", "pass"],
    "its libraries imported": [sys.executable, "-W", "ignore", "-c", "import numpy, networkx"],
    "housemap --version": module("housemap", "--version"),
    "housemap check demo_house.toml": module("housemap", "check", str(DEMO)),
    "housemap check --json demo_house.toml": module("housemap", "check", "--json", str(DEMO)),
}


def main() -> None:
    times: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for _ in range(RUNS):
        for name, command in COMMANDS.items():
            times[name].append(wall_seconds(partial(run, command)))
    show_ratios(times)


def run(command: list[str]) -> None:
    result = subprocess.run(command, capture_output=True, check=False)
    assert result.returncode in {0, 1}, result.stderr.decode()


if __name__ == "__main__":
    main()
