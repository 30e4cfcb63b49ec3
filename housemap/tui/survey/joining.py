"""An opening between two rooms out of its words, with what is taken where nothing is said."""

from housemap.model.house import House, Opening
from housemap.model.shape import wall_of
from housemap.plan.schematic import compass_side
from housemap.tui.survey.clauses import OpeningWords
from housemap.tui.survey.walls import along_m, along_words, facing, fault, told, wall_meant
from housemap.tui.survey.words import usual_m


class Joint:
    """An opening made of its words, and how it was understood."""

    def __init__(
        self, house: House, here: str, there: str, words: OpeningWords, wall: str | None
    ) -> None:
        self._house, self._words = house, words
        self._room, self._other = house.rooms[here], house.rooms[there]
        self._wall = wall_of(self._room, wall or "")
        self._said: list[str] = []
        own = self._own_wall(wall)
        whole = self._whole_wall(own)
        width = self._width(whole)
        along = self._along(width, whole)
        self.opening = Opening(
            between=(here, there), kind=words.kind, door="shut" if words.shut else "open",
            wall=wall, along_m=along, to_wall=own, to_along_m=self._to_along(own, width),
            width_m=width, height_m=words.height_m, stop=words.stop,
        )  # fmt: skip

    @property
    def said(self) -> str:
        words = self._words
        kind = "open plan" if words.kind == "open" else words.kind
        shut = " that stands shut" if words.shut else ""
        return ", ".join([f"{kind}{shut}", *self._said])

    def _own_wall(self, wall: str | None) -> str | None:
        """The wall in which one comes into the other room."""
        said = self._words.into.wall
        if said:
            return wall_meant(self._other, said, self._words.into.spans["wall"])
        return facing(self._other, self._wall, compass_side(self._room, wall))

    def _whole_wall(self, own: str | None) -> float | None:
        """How wide open plan is where nothing is said of it: as far as both walls go."""
        other = wall_of(self._other, own or "")
        words = self._words
        unsaid = words.kind == "open" and words.width_m is None and words.along is None
        if not unsaid or self._wall is None or other is None:
            return None
        return min(self._wall.length_m, other.length_m)

    def _width(self, whole: float | None) -> float | None:
        words, units = self._words, self._house.units
        if words.width_m is not None:
            self._said.append(f"{told(words.width_m, units)} wide")
            return words.width_m
        if whole is not None:
            self._said.append(f"{told(whole, units)} wide, the whole wall")
            return whole
        if words.along is None:
            return None
        width = usual_m(words.kind, units)
        self._said.append(f"{told(width, units)} wide (usual)")
        return width

    def _along(self, width: float | None, whole: float | None) -> float | None:
        words, units = self._words, self._house.units
        if whole is not None:
            return 0.0
        if words.along is None:
            if words.wall:
                self._said.append("where in the wall is not said")
            return None
        span = words.spans["along"]
        if words.wall is None:
            fault(span, "in which wall? Begin with n, e, s or w")
        along = along_m(words.along, self._wall, width or 0.0, span, units)
        self._said.append(along_words(along, self._wall, words.wall, units))
        return along

    def _to_along(self, own: str | None, width: float | None) -> float | None:
        into, units = self._words.into, self._house.units
        if into.along is None:
            return None
        span = into.spans["along"]
        if own is None:
            fault(span, f"in which wall of {into.name}? Write wall n, e, s or w")
        wall = wall_of(self._other, own)
        return along_m(into.along, wall, width or 0.0, span, units)
