"""An installed program has all that it needs: data, style sheet and the demo house."""

import re
from pathlib import Path
from zipfile import ZipFile

import pytest
from hatchling.builders.wheel import WheelBuilder

from housemap import __version__
from tests.support.project import DEMO, PACKAGE, ROOT


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> ZipFile:
    folder = tmp_path_factory.mktemp("wheel")
    (built,) = WheelBuilder(str(ROOT)).build(directory=str(folder), versions=["standard"])
    return ZipFile(built)


def test_it_holds_every_file_of_the_package(wheel: ZipFile) -> None:
    ours = {
        path.relative_to(ROOT).as_posix()
        for path in PACKAGE.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert ours <= set(wheel.namelist())
    assert {Path(name).suffix for name in ours} >= {".py", ".csv", ".tcss"}


def test_it_says_that_it_is_typed_and_what_is_new(wheel: ZipFile) -> None:
    assert {"housemap/py.typed", "housemap/guide/changes.md"} <= set(wheel.namelist())
    assert f"## {__version__}" in wheel.read("housemap/guide/changes.md").decode()


def test_its_metadata_names_every_python_that_is_checked(wheel: ZipFile) -> None:
    [name] = [name for name in wheel.namelist() if name.endswith(".dist-info/METADATA")]
    named = re.findall(r"^Classifier: .* :: (3\.\d+)$", wheel.read(name).decode(), re.MULTILINE)
    workflow = (ROOT / ".github" / "workflows" / "check.yml").read_text("utf-8")
    assert named == re.findall(r'"(3\.\d+)"', workflow)
    assert ".ci/run" in workflow


def test_it_holds_the_demo_house(wheel: ZipFile) -> None:
    assert wheel.read("housemap/demo_house.toml") == DEMO.read_bytes()


def test_it_holds_nothing_but_the_package(wheel: ZipFile) -> None:
    tops = {name.partition("/")[0] for name in wheel.namelist()}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"housemap"}
