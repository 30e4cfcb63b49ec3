"""Every command prints JSON with its format, in the keys and types of its schema."""

import json
import math
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from housemap.checks.examples import two_rooms
from housemap.cli import main
from housemap.cli.command import Parser, every_command
from housemap.cli.output import print_json
from housemap.cli.shell import every_parser
from housemap.file.earlier_saves import keep_save
from housemap.file.save import save_house
from housemap.guide import page
from housemap.workbench.folders import state_folder
from tests.support.houses import small_house

ANY = "*"
NUMBER, TEXT, NOTHING = (int, float), str, type(None)
MEASURED = (int, float, NOTHING)
"""Null where there are no measures."""
LAMP = {"floor": NUMBER, "ceiling": NUMBER, "walls": NUMBER}
LIGHT = {
    "source_xy": [NUMBER], "direct": LAMP, "total": LAMP, "wall_light_xy": [NUMBER],
    "wall_seen": {"JMh": [NUMBER], "ucs": [NUMBER], "srgb": TEXT},
}  # fmt: skip
FINDING = {
    "check": TEXT, "severity": TEXT, "rooms": [TEXT], "surfaces": [TEXT], "paints": [TEXT],
    "light": TEXT, "value": MEASURED, "limit": MEASURED, "unit": TEXT, "text": TEXT,
}  # fmt: skip
PAINT = {
    "lab": [NUMBER], "xyz": [NUMBER], "lrv": NUMBER, "lrv_printed": MEASURED, "gloss": TEXT,
    "srgb": TEXT, "in_srgb": bool, "notation": TEXT,
    "reflectance": {"start": NUMBER, "step": NUMBER, "values": [NUMBER]},
    "undertone": {
        "name": TEXT, "family": TEXT, "hue": NUMBER, "chroma": NUMBER, "temperature": TEXT,
    },
}  # fmt: skip
ROOM = {
    "at": (list, NOTHING), "floor_area": MEASURED, "wall_area": MEASURED,
    "wall_area_net": MEASURED, "volume": MEASURED, "mean_reflectance": MEASURED,
    "daylight_factor": MEASURED, "daylight_plane": MEASURED, "light": {ANY: LIGHT},
}  # fmt: skip
BEST = {"at": [NUMBER], "toward": NUMBER, "share": NUMBER}, NOTHING
COLOUR = {
    "role": TEXT, "paint": (str, NOTHING), "name": TEXT, "notation": TEXT, "lrv": NUMBER,
    "lab": [NUMBER], "strength": TEXT, "hue": TEXT, "reason": TEXT,
}  # fmt: skip
PAIRS = [{"rooms": [TEXT], "cost": [[NUMBER]]}]
SCHEMA: dict[str, dict[str, Any]] = {
    "survey": {"written": (str, NOTHING), "lines": [{
        "line": int, "text": TEXT, "understood": [TEXT], "contradictions": [TEXT],
        "fault": (dict, NOTHING),
    }]},
    "check": {
        "file": TEXT, "findings": [FINDING], "todo": [FINDING], "accepted": [dict],
        "causes": [{"severity": TEXT, "text": TEXT, "findings": [int]}],
    },
    "facts": {
        "paints": {ANY: PAINT}, "rooms": {ANY: ROOM},
        "plan": {
            "closing_error": MEASURED, "unplaced": [TEXT],
            "connection": {ANY: MEASURED},
        },
    },
    "sight": {"pairs": [{
        "from": TEXT, "to": TEXT, "through": [[TEXT]], "share": MEASURED,
        "best": BEST,
    }]},
    "rank": {"room": TEXT, "surface": TEXT, "candidates": [{
        "paint": TEXT, "cost": NUMBER, "parts": {ANY: NUMBER}, "findings_after": int,
        "harmony": NUMBER,
    }]},
    "fill": {
        "assignment": {ANY: TEXT}, "cost": NUMBER, "bound": NUMBER, "proven": bool,
        "seconds": NUMBER, "rules_shown": list, "brief": {"broken": [TEXT]},
        "rules": [{"rule": TEXT, "own": {ANY: [NUMBER]}, "pairs": PAIRS}],
        "problem": {
            "rooms": [TEXT], "candidates": {ANY: [TEXT]}, "own": {ANY: [NUMBER]},
            "pairs": PAIRS, "paint_cost": NUMBER, "paints": (int, NOTHING),
        },
    },
    "view": {"written": TEXT, "text": [TEXT]},
    "schedule": {"edition": TEXT, "written": [TEXT], "text": TEXT},
    "scheme": {
        "around": {"notation": TEXT, "lrv": NUMBER, "lab": [NUMBER]}, "compared": int,
        "sets": [{
            "kind": TEXT, "score": NUMBER, "bound": NUMBER, "proven": bool, "compared": int,
            "parts": {ANY: NUMBER}, "colours": [COLOUR], "broken": [TEXT],
        }],
    },
    "diff": {"changes": [{"path": [TEXT], "before": object, "after": object}]},
    "merge": {"both_changed": [{
        "path": [TEXT], "sent": (str, NOTHING), "yours": (str, NOTHING), "theirs": (str, NOTHING),
    }]},
    "saves": {"removed": bool, "files": [{
        "file": TEXT, "saves": [{"when": TEXT, "copy": TEXT}],
    }]},
    "deck": {
        "sources": [{
            "file": TEXT, "kind": TEXT, "paints": int, "columns": {ANY: TEXT}, "notes": [TEXT],
            "rejected": [{"line": int, "reason": TEXT, "text": TEXT}],
        }],
        "paints": int, "looks_wrong": [{"kind": TEXT, "paints": [TEXT], "text": TEXT}],
        "written": (str, NOTHING),
    },
    "guide": {"topics": {ANY: TEXT}},
    "about": {
        "housemap": {ANY: TEXT}, "terminal": {ANY: TEXT}, "folders": {ANY: TEXT},
        "keymap": {ANY: TEXT},
    },
    "completion": {"shell": TEXT, "text": TEXT},
    "man": {"text": TEXT},
}  # fmt: skip
"""What each command prints beside its format: keys and types; ANY stands for ids and names."""


JARRING = {"trim": {"most": 90.0}, "jar": {"doorway": 1.0, "cased": 1.0, "open": 1.0}}
"""Limits that make findings of nearly everything."""
MAY_BE_EMPTY = {"accepted", "todo", "written"}


def faults(value: object, schema: object, place: str = "") -> list[str]:
    """Where a value is not as its schema says."""
    if isinstance(schema, tuple) and isinstance(schema[0], dict):  # this, or null
        return faults(value, schema[0], place) if value is not None else []
    if isinstance(schema, dict) and isinstance(value, dict):
        known = {key: schema.get(key, schema.get(ANY)) for key in value}
        wrong = [f"{place}.{key}" for key, inner in known.items() if inner is None]
        wrong += [f"{place}.{key} is missing" for key in schema.keys() - {ANY, *value}]
        inside = ((value[key], inner, f"{place}.{key}") for key, inner in known.items() if inner)
        return [*wrong, *(fault for each in inside for fault in faults(*each))]
    if isinstance(schema, list) and isinstance(value, list):
        return [fault for each in value for fault in faults(each, schema[0], f"{place}[]")]
    types = schema if isinstance(schema, type | tuple) else ()
    return [] if isinstance(value, types) else [f"{place}: {value!r}"]


def arguments(command: str, folder: Path) -> list[str]:
    house = str(folder / "house.toml")
    (folder / "fan.csv").write_text("name,hex\nOat,#d9d0bf\nFern,#405030\n")
    (folder / "lines.txt").write_text("Hall; height 2.5\n")
    (folder / "bad.csv").write_text("name,hex,lrv\nOat,#d9d0bf,20\nOat,nothing,3\n")
    mine, theirs = (replace(small_house(), name=name) for name in ("Mine", "Theirs"))
    save_house(mine, folder / "mine.toml")
    save_house(theirs, folder / "theirs.toml")
    sides = [str(folder / name) for name in ("mine.toml", "theirs.toml")]
    keep_save(state_folder(), folder / "house.toml")
    jarring = str(folder / "jarring.toml")
    save_house(two_rooms("5Y 9/1", "5PB 3/6", "open"), Path(jarring))
    return {
        "survey": [house, str(folder / "lines.txt")], "check": [jarring], "sight": [house],
        "rank": [house, "hall"], "view": [house, "hall", "-o", str(folder / "hall.png")],
        "schedule": [house], "diff": [house, sides[0]], "deck": [str(folder / "bad.csv")],
        "facts": [house], "fill": [house], "scheme": ["10YR 7/1", "--sets", "1"],
        "merge": [house, *sides, "-o", str(folder / "merged.toml")],
        "completion": ["bash"],
    }.get(command, [])  # fmt: skip


@pytest.mark.parametrize("command", SCHEMA)
def test_it_prints_one_object_with_its_format(
    command: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("HOUSEMAP_STATE_DIR", str(tmp_path / "state"))
    house = replace(small_house(), limits=JARRING) if command == "check" else small_house()
    save_house(house, tmp_path / "house.toml")
    assert main([command, *arguments(command, tmp_path), "--json"]) in {0, 1}
    printed = json.loads(capsys.readouterr().out)
    assert printed.pop("format") == 1
    assert faults(printed, SCHEMA[command], command) == []
    lists = [key for key, value in printed.items() if value == [] and key not in MAY_BE_EMPTY]
    assert lists == [], "an empty list is no test of what is in it"


def test_what_is_no_number_is_null(capsys: pytest.CaptureFixture[str]) -> None:
    """JSON has no infinity: the integration of a room that all others open off, for one."""
    print_json({"room": math.inf, "rooms": [math.nan, 1 / 3]})
    assert json.loads(capsys.readouterr().out, parse_constant=pytest.fail) == {
        "format": 1, "room": None, "rooms": [None, 0.333333],
    }  # fmt: skip


def test_the_guide_lists_every_command_and_its_keys() -> None:
    rows = dict(re.findall(r"^\| `(\w+)` \| (.*) \|$", page("json"), re.MULTILINE))
    assert {command.name for command in every_command()} <= rows.keys()
    for command, keys in SCHEMA.items():
        assert keys.keys() <= set(re.findall(r"`(\w+)`", rows[command]))


@pytest.mark.parametrize("parser", every_parser(), ids=lambda parser: parser.command.name)
def test_every_command_takes_json(parser: Parser) -> None:
    assert "--json" in parser.options
