"""Every benchmark in turn: `python -m tests.benchmarks`. Each can also be run alone."""

import subprocess
import sys
from pathlib import Path

from tests.benchmarks.measuring import module


def main() -> int:
    """Run each in a process of its own; the number that failed."""
    failed = 0
    for path in sorted(Path(__file__).parent.glob("bench_*.py")):
        print(f"\n== {path.stem}", flush=True)
        failed += bool(
            subprocess.run(module(f"tests.benchmarks.{path.stem}"), check=False).returncode
        )
    return failed


if __name__ == "__main__":
    sys.exit(main())
