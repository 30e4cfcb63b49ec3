"""What a user waits for, in one table: `python -m tests.benchmarks`.

`python -m tests.benchmarks light walk` runs the benchmarks named, and `all` every one of them.
"""

import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from tests.benchmarks.measuring import module


def main(names: Sequence[str]) -> int:
    """Run each in a process of its own; the number that failed."""
    every = [path.stem for path in sorted(Path(__file__).parent.glob("bench_*.py"))]
    wanted = every if "all" in names else [f"bench_{name}" for name in names or ("waits",)]
    failed = 0
    for name in wanted:
        print(f"\n== {name}", flush=True)
        run = subprocess.run(module(f"tests.benchmarks.{name}"), check=False)
        failed += bool(run.returncode)
    return failed


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
