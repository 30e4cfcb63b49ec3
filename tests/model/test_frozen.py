"""A frozen value is what Python's own `dataclass(frozen=True)` would make of it."""

import pickle
from dataclasses import FrozenInstanceError, dataclass, field, replace
from itertools import product
from typing import Any

import pytest

from housemap.model.frozen import frozen

NOTE = field(default="", compare=False, repr=False)


@frozen()
class Side:
    name: str
    parts: tuple[str, ...] = field(default_factory=tuple)
    height_m: float = 2.4
    note: str = NOTE


@dataclass(frozen=True)
class PythonSide:
    name: str
    parts: tuple[str, ...] = field(default_factory=tuple)
    height_m: float = 2.4
    note: str = NOTE


@frozen(eq=False)
class Alone:
    parts: list[str] = field(default_factory=list)


GIVEN: tuple[Any, ...] = (("a",), ("a", ("b",)), ("a", (), 2.4, "noted"), ("a", (), 3.0), ("b",))


def test_values_are_shown_compared_and_found_as_by_python() -> None:
    for one, other in product(GIVEN, repeat=2):
        ours, usual = Side(*one), PythonSide(*one)
        assert repr(ours) == repr(usual).removeprefix("Python")
        assert (ours == Side(*other)) == (usual == PythonSide(*other))
        assert hash(ours) == hash(usual)
    assert Side("a") != PythonSide("a")  # type: ignore[comparison-overlap]  # it is the point
    assert Alone() != Alone()
    assert Alone().parts is not Alone().parts


def test_nothing_of_a_value_can_be_changed() -> None:
    side = Side("a")
    with pytest.raises(FrozenInstanceError):
        side.name = "b"  # type: ignore[misc]
    with pytest.raises(FrozenInstanceError):
        side.other = "b"  # type: ignore[attr-defined]
    with pytest.raises(FrozenInstanceError):
        del side.name
    assert replace(side, note="noted") == side


def test_a_value_is_the_same_after_pickling() -> None:
    side = Side("a", ("b",), note="noted")
    found = pickle.loads(pickle.dumps(side))
    assert (found, found.note) == (side, "noted")


@pytest.mark.parametrize("given", [(), ("a", (), 2.4, "", "more")])
def test_what_is_lacking_or_too_much_is_refused(given: tuple[Any, ...]) -> None:
    with pytest.raises(TypeError):
        Side(*given)
