"""Frozen dataclasses that are quick to make: Python compiles six methods for each such class.

Making classes so took a tenth of every start. Here they share all methods but `__init__`, which is
compiled for the first value: what is unpickled needs none.
"""

from collections.abc import Callable
from dataclasses import MISSING, FrozenInstanceError, dataclass, field, fields
from operator import attrgetter
from typing import Any, TypeVar, dataclass_transform

T = TypeVar("T")
_NEW = object()
"""Stands for a default that is made anew for each value."""


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(*, eq: bool = True) -> Callable[[type[T]], type[T]]:
    """As `dataclass(frozen=True)`; without `eq` a value equals only itself."""

    def make(cls: type[T]) -> type[T]:
        def first_init(self: object, *args: Any, **given: Any) -> None:
            made.__init__ = _init_of(cls)  # in the place of this one
            made.__init__(self, *args, **given)

        cls.__doc__ = cls.__doc__ or cls.__name__  # else `dataclass` puts one together, slowly
        made: Any = dataclass(init=False, repr=False, eq=False)(cls)
        made.__init__, made.__setattr__, made.__delattr__ = first_init, _refuse, _refuse
        if eq:
            made.__compared__ = attrgetter(*(each.name for each in fields(made) if each.compare))
            made.__eq__, made.__hash__, made.__repr__ = _equal, _hash, _repr
        return cls

    return make


def _init_of(cls: Any) -> Callable[..., None]:
    known: dict[str, Any] = {"_set": object.__setattr__, "_NEW": _NEW}
    given, steps = [], []
    for each in fields(cls):
        name = default = value = each.name
        if each.default is not MISSING:
            known[f"_{name}"], default = each.default, f"{name}=_{name}"
        elif each.default_factory is not MISSING:
            known[f"_{name}"], default = each.default_factory, f"{name}=_NEW"
            value = f"_{name}() if {name} is _NEW else {name}"
        given.append(default)
        steps.append(f"_set(self, {name!r}, {value})")
    exec(f"def __init__(self, {', '.join(given)}): {'; '.join(steps)}", known)  # noqa: S102 - of names of ours
    init: Callable[..., None] = known["__init__"]
    return init


def _refuse(_: object, name: str, *_value: object) -> None:
    raise FrozenInstanceError(f"cannot change {name!r}")


def _equal(self: Any, other: Any) -> Any:
    same = other.__class__ is self.__class__
    return self.__compared__(self) == other.__compared__(other) if same else NotImplemented


def _hash(self: Any) -> int:
    return hash(self.__compared__(self))


def _repr(self: Any) -> str:
    shown = (f"{each.name}={getattr(self, each.name)!r}" for each in fields(self) if each.repr)
    return f"{type(self).__qualname__}({', '.join(shown)})"
