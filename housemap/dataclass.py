"""`dataclass` as the standard library has it, made in a fifth of the time.

The library compiles up to seven methods for every class each time a program starts: 0.1 s of a
start. Here `__init__` alone is compiled.
"""

import dataclasses
from collections.abc import Sequence
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
            made = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots)(cls)
            fields = dataclasses.fields(made)
            made.__field_names__ = tuple(each.name for each in fields)
            methods = {"__init__": _init(made, fields, frozen=frozen)}
            if eq:
                methods |= _comparing([each.name for each in fields if each.compare], frozen)
            if frozen:
                methods |= {"__setattr__": _refuse, "__delattr__": _refuse}
            if frozen and slots:
                methods |= {"__getstate__": _state, "__setstate__": _restore}
            if repr:
                methods["__repr__"] = _text
            for name, method in methods.items():
                if vars(cls).get(name) is None:  # else it has its own
                    setattr(made, name, method)
            return made

        return make if cls is None else make(cls)


def _comparing(names: Sequence[str], hashed: bool) -> dict[str, Any]:  # noqa: FBT001
    values = attrgetter(*names) if names else type

    def equal(self: object, other: object) -> Any:
        return values(self) == values(other) if type(self) is type(other) else NotImplemented

    def number(self: object) -> int:
        return hash(values(self))

    return {"__eq__": equal, "__hash__": number if hashed else None}


def _init(cls: type, fields: tuple[Field[Any], ...], *, frozen: bool) -> Any:
    known: dict[str, Any] = {"_set": object.__setattr__, "_missing": MISSING}
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


def _refuse(_self: object, name: str, *_value: object) -> None:
    raise FrozenInstanceError(f"the field {name!r} cannot be changed")


def _state(self: Any) -> list[Any]:
    return [getattr(self, name) for name in self.__field_names__]


def _restore(self: Any, state: list[Any]) -> None:
    for name, value in zip(self.__field_names__, state, strict=True):
        object.__setattr__(self, name, value)
