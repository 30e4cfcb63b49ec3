"""A class is the same whether the standard library makes a dataclass of it or `housemap` does."""

import copy
import dataclasses
import pickle
import sys
from collections.abc import Callable
from dataclasses import FrozenInstanceError, field, replace
from functools import cached_property
from typing import Any, ClassVar

import pytest

import housemap.dataclass

MAKERS = {"library": dataclasses.dataclass, "ours": vars(housemap.dataclass)["dataclass"]}
OPTIONS: tuple[dict[str, bool], ...] = tuple(
    {"frozen": frozen, "slots": slots, "eq": eq}
    for frozen in (False, True)
    for slots in (False, True)
    for eq in (False, True)
)
Make = Callable[..., Any]


def plain(make: Make, **options: bool) -> Any:
    class Sample:
        """Of every kind of field."""

        a: int
        b: list[str] = field(default_factory=list)
        c: str = "red"
        d: float = field(default=0.5, compare=False, repr=False)
        e: int = field(init=False, default=7)
        f: int = field(init=False)
        KIND: ClassVar[str] = "sample"

        def __post_init__(self) -> None:
            object.__setattr__(self, "f", self.a + 1)

    Sample.__qualname__ = "Sample"
    made = make(**options)(Sample)
    setattr(sys.modules[__name__], "Sample", made)  # noqa: B010 - where pickle looks for it
    return made


def said_of(kind: Any) -> list[object]:
    """What can be seen of a dataclass and of its values."""
    one, same, other = kind(1), kind(1, d=2.5), kind(2, ["x"], c="blue")
    said: list[object] = [repr(one), repr(other), one == same, one == other, one != same, one == 1]
    said += [[(each.name, each.init) for each in dataclasses.fields(one)], kind.__match_args__]
    said += [dataclasses.asdict(other), repr(replace(other, a=5)), kind(1).b is not kind(1).b]
    said += [outcome(lambda: hash(one) == hash(same)), hasattr(one, "__dict__"), one.KIND]
    said += [outcome(lambda: setattr(one, "a", 3)), one.a, outcome(lambda: delattr(one, "c"))]
    said += [outcome(kind), outcome(lambda: kind(1, 2, 3, 4, 5))]
    said += [outcome(lambda: replace(one, e=1))]
    said += [repr(each(other)) for each in (copy.copy, copy.deepcopy)]
    said += [repr(pickle.loads(pickle.dumps(other))), outcome(lambda: one.f)]
    return said


def outcome(call: Callable[[], object]) -> object:
    try:
        return call()
    except (TypeError, AttributeError, ValueError) as error:
        return type(error) if isinstance(error, FrozenInstanceError) else str(error)[:20]


@pytest.mark.parametrize("options", OPTIONS, ids=str)
def test_it_makes_what_the_library_makes(options: dict[str, bool]) -> None:
    library, ours = (said_of(plain(make, **options)) for make in MAKERS.values())
    assert ours == library


@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_what_a_class_has_of_its_own_is_kept(make: Make) -> None:
    @make(frozen=True)
    class Own:
        a: int

        def __eq__(self, other: object) -> bool:
            return True

        def __hash__(self) -> int:
            return 5

        def __repr__(self) -> str:
            return "own"

    kind: Any = Own
    assert (kind(1) == kind(2), hash(kind(1)), repr(kind(1))) == (True, 5, "own")


@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_fields_are_inherited_and_results_can_be_kept(make: Make) -> None:
    @make(frozen=True, eq=False)
    class Base:
        a: int
        b: int = 2

    @make(frozen=True, eq=False)
    class Derived(Base):
        c: int = 3

        @cached_property
        def all(self) -> int:
            return self.a + self.b + self.c

    kind: Any = Derived
    made = kind(1)
    assert made.all == made.all == 6
    assert made != kind(1)
    with pytest.raises(FrozenInstanceError):
        made.a = 2
    assert pickle.loads(pickle.dumps(made.all)) == 6


@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_a_value_that_holds_itself_can_be_shown(make: Make) -> None:
    @make()
    class Ring:
        next: Any = None

    ring = Ring()
    ring.next = ring
    assert "..." in repr(ring)
