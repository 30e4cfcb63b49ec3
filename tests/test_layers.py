"""The layers of DEVELOPERS.md hold, as import-linter's contracts in pyproject.toml tell them."""

import subprocess
import sys

from tests.support.project import ROOT

LINT = (
    "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True))"
)


def test_every_import_runs_the_way_the_layers_say() -> None:
    result = subprocess.run(
        [sys.executable, "-c", LINT], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert result.returncode == 0, result.stdout + result.stderr
