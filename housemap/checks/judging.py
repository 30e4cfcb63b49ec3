"""Running the checks over the parts of a study: each looks at the house as it is."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from typing import Any, cast

import numpy as np

from housemap.checks.check import Check, Compare, Listed, OfRoom, OfView, Scope
from housemap.checks.every import CHECKS
from housemap.checks.finding import Finding, Place
from housemap.checks.meetings import Adapted, Between, Look, Meetings, Verdict, in_reference_light
from housemap.checks.options import RoomOptions, ViewOptions
from housemap.light.scene import LIGHTS, LightName
from housemap.model.frozen import frozen
from housemap.model.house import Light
from housemap.model.severity import SEVERITIES
from housemap.study import Coat, PaintedRoom, SeenView, Study
from housemap.study.study import Touched

Subject = tuple[str, Any]
"""What a check looked at: the name of the Study's table, and the key there."""
Found = Mapping[Subject, tuple[Finding, ...]]
"""Only the subjects in which something was found."""

TABLES = ("swatches", "rooms", "pairs", "views", "surroundings", "plans", "houses")
"""The tables of a Study, and the fields of Touched."""


def subjects_of(tables: Study | Touched) -> Iterator[Subject]:
    """All of a study, or those that are new in it."""
    return ((table, key) for table in TABLES for key in getattr(tables, table))


def relit_subjects(study: Study, before: Study) -> frozenset[Subject]:
    """What involves a room whose light has changed, as it does beside a repainted room."""
    known = before.lighting.rooms
    relit = {room for room, lit in study.lighting.rooms.items() if known.get(room) is not lit}
    seen = {room for room, view in study.views.items() if relit & {each.id for each in view.rooms}}
    around = seen.union(*(study.graph.sees(room) for room in seen))
    pairs = {pair for pair in study.pairs if not relit.isdisjoint(pair)}
    tables = (("rooms", relit), ("pairs", pairs), ("views", seen), ("surroundings", around))
    return frozenset((table, key) for table, keys in tables for key in keys)


Parts = Mapping[str, Sequence[object]]
"""The keys of each table that are still there."""


def found_in(study: Study, subjects: Iterable[Subject], *, deep: bool) -> Found:
    """What the checks find under the reference light; or `deep`, by day and in the evening, and
    what needs light or sight to be found.
    """  # noqa: D205 - one sentence
    keys: dict[str, list[object]] = {table: [] for table in TABLES}
    for table, key in subjects:
        if key in getattr(study, table):
            keys[table].append(key)
    return _Judging(study, keys, deep=deep).found()


@frozen(eq=False)
class _Judging:
    study: Study
    parts: Parts
    deep: bool
    by_subject: dict[Subject, list[Finding]] = field(default_factory=lambda: defaultdict(list))
    met: dict[object, "tuple[Meetings, Sequence[Subject]] | None"] = field(default_factory=dict)
    """The coats that meet, with what they are of: gathered once for each way to compare."""

    def found(self) -> Found:
        for check in CHECKS:
            for look in check.looks:
                match look:
                    case Compare() if look.lit or not self.deep:
                        self._compare(check, look)
                    case OfRoom() if look.deep == self.deep:
                        self._of_rooms(check, look)
                    case OfView() if look.deep == self.deep:
                        self._of_views(check, look)
                    case Listed() if not self.deep:
                        self._listed(check, look)
        return {subject: tuple(found) for subject, found in self.by_subject.items()}

    def _compare(self, check: Check, look: Compare) -> None:
        key = look.surfaces, look.where, look.lit
        if key not in self.met:
            self.met[key] = self._gathered(look)
        if (met := self.met[key]) is None:
            return
        meetings, subjects = met
        verdict = look.judge(meetings, check.limits_in(self.study.house))
        for row in verdict.each_worst():
            at = int(verdict.cell[row])
            finding = _finding(check, verdict, row, meetings.places(at))
            if verdict.turned is not None and verdict.turned[row]:
                turned = finding.places[::-1], finding.words[::-1]
                finding = replace(finding, places=turned[0], words=turned[1])
            self.by_subject[subjects[meetings.place[at]]].append(finding)

    def _gathered(self, look: Compare) -> tuple[Meetings, Sequence[Subject]] | None:
        study, coats, place, subjects = self.study, [], [], []
        between: list[Between] = []
        for subject, rooms in self._places(look):
            if here := [*_meeting(look, rooms)]:
                place += [len(between)] * len(here)
                coats += here
                between.append(rooms)
                subjects.append(subject)
        if not coats:
            return None
        table, rows = study.table.columns, study.table.places
        at, to = (np.array([rows[pair[i].swatch.key] for pair in coats]) for i in (0, 1))
        looks: list[Look] = []
        if look.lit and self.deep:
            looks = _as_seen(study, coats, [between[at] for at in place])
        elif look.lit:
            families = [swatch.colour.undertone.family for swatch in study.swatches.values()]
            seen = in_reference_light(table)._replace(families=families)
            looks = [Look(seen, seen, at, to, np.arange(len(coats)))]
        names = [(one.surface, other.surface) for one, other in coats]
        every = np.array(place)
        met = Meetings(study.house, table, table, at, to, names, between, every, looks)
        return met, subjects

    def _places(self, look: Compare) -> Iterator[tuple[Subject, Between]]:
        for key in self.parts["rooms"] if look.within else ():
            room = self.study.rooms[str(key)]
            yield ("rooms", key), Between(room, room)
        for key in self.parts["pairs"] if look.between else ():
            pair = self.study.pairs[cast("tuple[str, str]", key)]
            yield ("pairs", key), Between(pair.first, pair.second, pair)

    def _of_rooms(self, check: Check, look: OfRoom) -> None:
        limits = check.limits_in(self.study.house)
        for key in self.parts["rooms"]:
            room = self.study.rooms[str(key)]
            if "walls" in room.coats:
                verdict = look.judge(as_it_is(self.study, room.id, deep=self.deep), limits)
                for row in verdict.each_worst():
                    walls = (Place.of(room.coats["walls"]),)
                    places = verdict.places(row) if verdict.places else walls
                    finding = _finding(check, verdict, row, places)
                    self.by_subject["rooms", room.id].append(finding)

    def _of_views(self, check: Check, look: OfView) -> None:
        limits = check.limits_in(self.study.house)
        table = "surroundings" if look.around else "views"
        for key in self.parts[table]:
            for verdict in look.judge(view_of(self.study, str(key), around=look.around), limits):
                assert verdict.places is not None
                for row in range(len(verdict.cell)):
                    finding = _finding(check, verdict, row, verdict.places(row))
                    self.by_subject[table, key].append(finding)

    def _listed(self, check: Check, look: Listed) -> None:
        scope = Scope(self.study, check.limits_in(self.study.house))
        parts = getattr(self.study, look.table)
        for key in self.parts[look.table]:
            if found := [*look.find(parts[key], scope)]:
                self.by_subject[look.table, key] += found


def as_it_is(study: Study, room: str, *, deep: bool) -> RoomOptions:
    """A room on which nothing is tried."""
    part = study.rooms[room]
    if not deep:
        return RoomOptions(part)
    seen: dict[LightName, SeenView] = {}
    for light in LIGHTS:
        if (view := study.lighting.seen[room, light]) is not None:
            seen[light] = view
    lit = study.lighting.rooms[room].light
    daylight, lightest = lit.median_daylight, study.lightest_lrv
    return RoomOptions(
        part, lights=lit.lights, daylight=daylight, lightest_lrv=lightest, seen=seen
    )  # fmt: skip


def view_of(
    study: Study, room: str, *, around: bool, tried: RoomOptions | None = None
) -> ViewOptions:
    """What is seen from a room, or in any view with it."""
    views = study.surroundings[room].views if around else (study.views[room],)
    return ViewOptions(study, study.rooms[room], views, tried)


def _finding(check: Check, verdict: Verdict, row: int, places: tuple[Place, ...]) -> Finding:
    kind = verdict.kind_of(row)
    limited = kind in check.defaults
    return Finding(
        check=check.id,
        severity=SEVERITIES[int(verdict.severity[row])],
        places=places,
        kind=kind,
        value=float(verdict.value[row]) if limited else None,
        limit=float(verdict.limit[row]) if limited else None,
        unit=check.unit_of[kind] if limited else "",
        parts={name: float(values[row]) for name, values in verdict.parts.items()},
        words=verdict.words(row) if verdict.words else (),
        light=cast("Light", verdict.light_of(row)),
        close=bool(verdict.close[row]),
        cost=float(verdict.cost[row]),
    )


def _meeting(look: Compare, rooms: Between) -> Iterator[tuple[Coat, Coat]]:
    others = [*compared_coats(rooms.second)]
    for i, one in enumerate(compared_coats(rooms.first)):
        for other in others[i + 1 :] if rooms.pair is None else others:
            if look.surfaces.meet(one.surface, other.surface):
                yield one, other


def compared_coats(room: PaintedRoom) -> Iterator[Coat]:
    """In the order of `RoomOptions.surfaces`."""
    coats = room.coats
    yield from (coats[surface] for surface in ("walls", "trim") if surface in coats)
    yield from room.accents
    yield from room.compared_finishes
    if "doors" in coats:
        yield coats["doors"]


def _as_seen(
    study: Study, coats: Sequence[tuple[Coat, Coat]], between: Sequence[Between]
) -> list[Look]:
    """Each meeting by the eye in each of its rooms, under each light that both rooms have."""
    seen: dict[tuple[str, LightName], tuple[SeenView, int]] = {}
    """By eye: its view, and its first row among the coats of all views."""
    total, entries, lights = 0, [], []
    for at, ((one, other), rooms) in enumerate(zip(coats, between, strict=True)):
        for eye in _eyes(study, rooms):
            view = study.lighting.seen[eye]
            if view is None:
                continue
            if eye not in seen:
                seen[eye] = view, total
                total += len(view.colours)
            start = seen[eye][1]
            entries.append((at, start + view.places[one], start + view.places[other]))
            lights.append(eye[1])
    if not entries:
        return []
    views = [view for view, _ in seen.values()]
    lab100 = np.concatenate([view.looks.lab100 for view in views])[:, None, None]
    ucs = np.concatenate([view.looks.ucs for view in views])[:, None, None]
    leans = np.concatenate([view.leans for view in views])[:, None, None]
    families = [coat.undertone.family for view in views for coat in view.colours.values()]
    table = Adapted(lab100, ucs, leans=leans, families=families)
    meetings, one_rows, other_rows = np.array(entries).T
    return [Look(table, table, one_rows, other_rows, meetings, lights, lit=True)]


def _eyes(study: Study, rooms: Between) -> Iterator[tuple[str, LightName]]:
    ids = dict.fromkeys((rooms.first.id, rooms.second.id))
    for light in LIGHTS:
        if all(light in study.lighting.rooms[room].light.lights for room in ids):
            yield from ((room, light) for room in ids)
