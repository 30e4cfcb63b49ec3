"""An installed program has all that it needs: data, style sheet and the demo house."""

from pathlib import Path
from zipfile import ZipFile

import pytest
from hatchling.builders.wheel import WheelBuilder

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


def test_it_holds_the_demo_house(wheel: ZipFile) -> None:
    assert wheel.read("housemap/demo_house.toml") == DEMO.read_bytes()


def test_it_holds_nothing_but_the_package(wheel: ZipFile) -> None:
    tops = {name.partition("/")[0] for name in wheel.namelist()}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"housemap"}
