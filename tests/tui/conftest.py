"""Tests of the screen leave the user's own folders alone, and do not wait for nothing."""

from pathlib import Path

import pytest
from textual import _wait


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOUSEMAP_CONFIG_DIR", str(tmp_path / "config"))
    monkeypatch.setenv("HOUSEMAP_STATE_DIR", str(tmp_path / "state"))
    if hasattr(_wait, "SLEEP_GRANULARITY"):  # private: without it the tests are only slower
        monkeypatch.setattr(_wait, "SLEEP_GRANULARITY", 0.004)
