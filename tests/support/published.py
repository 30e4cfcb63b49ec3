"""Check values from outside the project, each file with its source, from tests/data."""

import json
from functools import cache
from pathlib import Path
from typing import Any

DATA = Path(__file__).parents[1] / "data"


@cache
def published(name: str) -> dict[str, Any]:
    """What tests/data/NAME.json holds; every file says where its values come from."""
    values: dict[str, Any] = json.loads((DATA / f"{name}.json").read_text("utf-8"))
    assert values["source"], name
    return values
