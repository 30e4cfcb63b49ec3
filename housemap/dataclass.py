"""`dataclass` as the standard library has it, made in a fifth of the time.

The library compiles up to seven methods for every class each time a program starts: 0.1 s of a
start. Here `__init__` alone is compiled; every other method is one function for all classes.
"""

import dataclasses
from dataclasses import MISSING, Field, FrozenInstanceError
from operator import attrgetter
from reprlib import recursive_repr
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass  # noqa: PLC0414 - exported
else:

    def dataclass(cls=None, /, *, frozen=False, slots=False, eq=True, repr=True):  # noqa: A002, ANN001, ANN201
        """As the library's for these options. What it makes is a dataclass to the library too."""

        def make(cls: type) -> type:
            return _made(cls, _methods(frozen=frozen, slots=slots, eq=eq, shown=repr), slots=slots)

        return make if cls is None else make(cls)


Methods = dict[str, Any]


def _methods(*, frozen: bool, slots: bool, eq: bool, shown: bool) -> Methods:
    """All but `__init__`."""
    made: Methods = {"__repr__": _text} if shown else {}
    if eq:
        made |= {"__eq__": _equal, "__hash__": _hash if frozen else None}
    if frozen:
        made |= {"__setattr__": _refuse, "__delattr__": _refuse}
    if frozen and slots:
        made |= {"__getstate__": _state, "__setstate__": _restore}
    return made


def _made(cls: type, methods: Methods, *, slots: bool) -> Any:
    own = {name for name, value in vars(cls).items() if value is not None}
    made: Any = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots)(cls)
    fields = dataclasses.fields(made)
    made.__field_names__ = tuple(each.name for each in fields)
    made.__compared__ = attrgetter("__class__", *(each.name for each in fields if each.compare))
    methods = {"__init__": _init(made, fields, frozen="__setattr__" in methods), **methods}
    for name in methods.keys() - own:
        setattr(made, name, methods[name])
    return made


def _init(cls: type, fields: tuple[Field[Any], ...], *, frozen: bool) -> Any:
    known: Methods = {"_set": object.__setattr__, "_missing": MISSING}
    arguments, lines = ["self"], []
    for each in fields:
        name, default, make = each.name, f"_{each.name}", each.default_factory
        known[default] = each.default if make is MISSING else make
        has_default = known[default] is not MISSING
        if each.init:
            lacking = default if make is MISSING else "_missing"
            arguments.append(f"{name}={lacking}" if has_default else name)
        value = name
        if make is not MISSING:
            value = (
                f"{default}() if {name} is _missing else {name}" if each.init else f"{default}()"
            )
        elif not each.init:
            value = default
        if each.init or has_default:
            lines.append(f"_set(self, {name!r}, {value})" if frozen else f"self.{name} = {value}")
    if hasattr(cls, "__post_init__"):
        lines.append("self.__post_init__()")
    exec(f"def __init__({', '.join(arguments)}):\n " + "\n ".join(lines or ["pass"]), known)  # noqa: S102
    init = known["__init__"]
    init.__qualname__ = f"{cls.__qualname__}.__init__"  # errors name it
    return init


@recursive_repr()
def _text(self: Any) -> str:
    fields = (each for each in dataclasses.fields(self) if each.repr)
    shown = ", ".join(f"{each.name}={getattr(self, each.name)!r}" for each in fields)
    return f"{type(self).__qualname__}({shown})"


def _equal(self: Any, other: Any) -> Any:
    if type(other) is not type(self):
        return NotImplemented
    return self.__compared__(self) == self.__compared__(other)


def _hash(self: Any) -> int:
    return hash(self.__compared__(self))


def _refuse(_self: object, name: str, *_value: object) -> None:
    raise FrozenInstanceError(f"the field {name!r} cannot be changed")


def _state(self: Any) -> list[Any]:
    return [getattr(self, name) for name in self.__field_names__]


def _restore(self: Any, state: list[Any]) -> None:
    for name, value in zip(self.__field_names__, state, strict=True):
        object.__setattr__(self, name, value)
