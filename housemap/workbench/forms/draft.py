"""What has been typed into a form, and the house that it makes."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from housemap.errors import EditError, InputError, Problem
from housemap.model.edits import put
from housemap.model.fieldtypes import REQUIRED, Key
from housemap.model.house import House
from housemap.model.validation import problems, sentence
from housemap.workbench.forms.fields import (
    ID,
    LABELS,
    FormField,
    NewFinish,
    Words,
    fields_of,
    named,
    surfaces_of,
    walls_of,
)
from housemap.workbench.forms.targets import OWN_KEY, WISHES, Target, id_fault
from housemap.workbench.survey.vocabulary import use_of, usual_role

Values = Mapping[str, Any]

ID_HINT = "how the file names it; left empty: made of its name"


@dataclass(frozen=True)
class Form:
    """The fields of a target in a house, with what stands in them before anything is typed."""

    target: Target
    house: House
    given: Values = field(default_factory=dict)
    """What a new entity starts with, by attribute."""

    @cached_property
    def fields(self) -> tuple[FormField, ...]:
        target, house = self.target, self.house
        own = fields_of(target.record, target.kind, house, target.room_in(house))
        if not target.has_id:
            return tuple(own)
        label = LABELS.get(f"{target.kind}.id", "id")
        if target.kind not in OWN_KEY:
            return (*own, FormField(ID, (), label, Words(64), None, hint=ID_HINT))
        room = target.room_in(house)
        entries = {
            "accent": walls_of(room), "state": surfaces_of(room), "visit": named(house, "rooms"),
        }  # fmt: skip
        entry = entries[target.kind]
        return (FormField(ID, (), label, entry, REQUIRED, hint=entry.hint), *own)

    @cached_property
    def values(self) -> Values:
        """By attribute; an attribute that must be given and is not yet is left out."""
        held = self.target.found_in(self.house)
        keys = self.target.record.fields
        if held is not None:
            values = {each.attr: getattr(held, each.attr) for each in keys}
        else:
            defaults = {each.attr: each.default for each in keys if isinstance(each, Key)}
            values = {k: v for k, v in defaults.items() if v is not REQUIRED} | dict(self.given)
        return values | {ID: self.target.key or self.given.get(ID)}

    def text(self, of: FormField) -> str:
        """What stands in a field before anything is typed."""
        value = of.of(self.values)
        return "" if value is None else of.entry.text(value)

    @cached_property
    def is_new(self) -> bool:
        return self.target.found_in(self.house) is None


@dataclass(frozen=True)
class Made:
    """What a draft makes: a house where it can, else what keeps it from being one."""

    house: House | None = None
    key: str = ""
    faults: Mapping[str, str] = field(default_factory=dict)
    """By key of the field."""
    others: tuple[str, ...] = ()
    """What is wrong elsewhere in the house, in words."""

    @property
    def fits(self) -> bool:
        return self.house is not None and not self.faults and not self.others


@dataclass(frozen=True)
class Draft:
    """A form with what was typed into it; only texts that differ are kept."""

    form: Form
    typed: Mapping[str, str] = field(default_factory=dict)
    """By key of the field."""

    def text(self, of: FormField) -> str:
        return self.typed.get(of.key, self.form.text(of))

    def with_text(self, of: FormField, text: str) -> "Draft":
        typed = {key: said for key, said in self.typed.items() if key != of.key}
        if text != self.form.text(of):
            typed[of.key] = text
        return replace(self, typed=typed)

    def tidied(self, of: FormField) -> "Draft":
        """Once a field is left: with a choice written out in full, a new room's use by its name."""
        text = self.text(of)
        if of.attr in {"between", "kind"} and self.form.target.kind == "opening":
            return self._as_usual_between(of) if self.form.is_new else self._written_out(of)
        if of.attr == "name" and self.form.target.kind == "room" and self.form.is_new:
            use, role = (next(f for f in self.form.fields if f.attr == a) for a in ("use", "role"))
            draft = self if use.key in self.typed else self.with_text(use, use_of(text))
            usual = usual_role(draft.text(use)) or ""
            return draft if role.key in self.typed else draft.with_text(role, usual)
        return self._written_out(of)

    def _written_out(self, of: FormField) -> "Draft":
        """With a choice that a text means by its whole name."""
        found = of.choice.fitting(self.text(of)) if of.choice and self.text(of).strip() else []
        return self.with_text(of, found[0].name) if len(found) == 1 else self

    def _as_usual_between(self, of: FormField) -> "Draft":
        """Of a new opening: a door to outdoors stands shut, stairs join levels; unless typed."""
        draft, fields = self._written_out(of), self.form.fields
        between = [each for each in fields if each.attr == "between" and not draft.fault(each)]
        named = {draft.value(each) for each in between}
        rooms = [room for key, room in self.form.house.rooms.items() if key in named]
        kind, door = (next(each for each in fields if each.attr == a) for a in ("kind", "door"))
        if any(room.use == "outdoor" for room in rooms):
            is_door = draft.text(kind) == "doorway" and door.key not in self.typed
            return draft.with_text(door, "shut") if is_door else draft
        levels = len({room.level for room in rooms}) > 1 and kind.key not in self.typed
        return draft.with_text(kind, "stairs") if levels else draft

    def over(self, form: Form) -> "Draft":
        """What was typed, in the fields of the same form on another house."""
        kept = Draft(form)
        for of in form.fields:
            if of.key in self.typed:
                kept = kept.with_text(of, self.typed[of.key])
        return kept

    # One field

    def value(self, of: FormField) -> Any:
        """The value of a field: exactly as it was where its text was not changed.

        Raises InputError with a phrase.
        """
        if of.key not in self.typed:
            return of.of(self.form.values)
        text = self.typed[of.key]
        if text.strip():
            return of.entry.value(text)
        return None if of.needed else of.default

    def fault(self, of: FormField) -> str:
        """What is wrong with a field by itself; empty where nothing is, or where it is empty."""
        try:
            value = self.value(of)
        except InputError as error:
            return str(error)
        if of.attr == ID and value is not None and not of.choice:
            return id_fault(value)
        found: list[str] = []
        if of.key in self.typed and value is not None and of.kind is not None:
            of.kind.faults(value, lambda _path, phrase: found.append(phrase))
        return self._in_metres(of, found[0]) if found else ""

    def _in_metres(self, of: FormField, phrase: str) -> str:
        """The rules speak in metres: said where the screen shows feet."""
        feet = self.form.house.units == "ft" and of.attr.endswith("_m")
        return f"{phrase} (in metres)" if feet else phrase

    # The whole

    @cached_property
    def made(self) -> Made:
        faults = {of.key: fault for of in self.form.fields if (fault := self.fault(of))}
        for of in self.form.fields:
            if of.needed and of.key not in faults and self.value(of) is None:
                faults[of.key] = "is needed"
        return Made(faults=faults) if faults else self._house()

    def _house(self) -> Made:
        form, target = self.form, self.form.target
        values = self._values()
        key = values.pop(ID, None) or ""
        try:
            if not key and target.has_id:
                key = target.key or target.new_key(form.house, target.record.entity(**values))
            house = form.house
            for new in self._new_finishes:
                house = put(house, "finishes", new, new.finish)
            house = target.put(house, key, values)
        except EditError as error:
            return Made(faults={self._id.key: str(error)})
        faults: dict[str, str] = {}
        others = []
        for problem in () if house == form.house else problems(house):
            of = self._field_of(problem, key)
            if of is None:
                others.append(problem.text)
            else:
                faults.setdefault(of.key, self._in_metres(of, _phrase(problem, target.path(key))))
        return Made(house, key, faults, tuple(others))

    @property
    def _id(self) -> FormField:
        return next(of for of in self.form.fields if of.attr == ID)

    def _values(self) -> dict[str, Any]:
        """By attribute, with parts put back into their whole."""
        values = dict(self.form.values)
        lists: dict[str, list[Any]] = {}
        for of in self.form.fields:
            value = self.value(of)
            if isinstance(of.part, str):
                values[of.attr] = replace(values[of.attr], **{of.part: value})
            elif of.part is None:
                values[of.attr] = value
            else:  # the places of a list come in their order
                lists.setdefault(of.attr, []).append(value)
        return values | {attr: tuple(each) for attr, each in lists.items()}

    def _field_of(self, problem: Problem, key: str) -> FormField | None:
        """The field that a problem is about."""
        path = self.form.target.path(key)
        if problem.path[: len(path)] != path:
            return None
        below = problem.path[len(path) :]
        if not below and self.form.target.has_id:
            return self._id
        fields = [of for of in self.form.fields if of.path]
        exact = (of for of in fields if below[: len(of.path)] == of.path)
        return next(exact, next((of for of in fields if below[:1] and below[0] in of.path), None))

    # In words

    @property
    def label(self) -> str:
        """What taking the form does, for the history."""
        form, name = self.form, self.name
        if form.is_new:
            return f"New {form.target.kind_words}: {name}"
        new = [value.finish.name for value in self._new_finishes]
        made = f"; new finish {', '.join(new)}" if new else ""
        return f"{name}: {', '.join(of.label for of in form.fields if of.key in self.typed)}{made}"

    @property
    def _new_finishes(self) -> list[NewFinish]:
        """Those that were typed into a field and are not in the house yet."""
        found: list[Any] = []
        for of in self.form.fields:
            value = self.value(of) if of.finishes else None
            found += value if isinstance(value, tuple) else [value]
        return [each for each in found if isinstance(each, NewFinish)]

    @property
    def name(self) -> str:
        """What the entity is called, as far as it has been typed."""
        target = self.form.target
        of_name = next((of for of in self.form.fields if of.attr == "name"), None)
        typed = self.text(of_name).strip() if of_name else ""
        return typed or target.name_in(self.form.house) or self.made.key or target.kind

    @property
    def title(self) -> str:
        target, house = self.form.target, self.form.house
        if target.kind == WISHES:
            return target.name_in(house)
        room = target.room_in(house)
        inside = f" of {room.name}" if room else ""
        if self.form.is_new:
            return f"New {target.kind_words}{inside}"
        return f"{target.kind_words.capitalize()} {target.name_in(house)}{inside}"


def _phrase(problem: Problem, path: tuple[str, ...]) -> str:
    """A problem without what its field says already."""
    phrase = problem.text.removeprefix(sentence(problem.path, ""))
    if phrase.startswith("and "):
        return problem.text.removeprefix(sentence(path, "")).removeprefix(": ")
    return phrase
