"""What the lines round the map say of a session."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from housemap.errors import EditError
from housemap.model.house import Light
from housemap.model.text import counted
from housemap.plan.house_graph import Pair, sorted_pair
from housemap.tui.commands import BY_ID, Keymap
from housemap.tui.keys import shown_key
from housemap.tui.map.drawing import Sight
from housemap.tui.render.cells import plain
from housemap.tui.render.shades import Shades, shades_of
from housemap.workbench.next_step import next_step
from housemap.workbench.session import Session


def as_sentence(error: EditError) -> str:
    text, _, _ = str(error).partition("\n")
    return f"{text[:1].upper()}{text[1:]}."


def head_of(session: Session) -> tuple[str, Sequence[str], Sequence[str]]:
    """The house's name, what is to be known of its file, and where the map is."""
    notes = {
        light_note(session): True, "trying out": session.tried is not None,
        "not saved": session.unsaved, "read-only": session.read_only,
        "changed on disk": session.changed_on_disk,
    }  # fmt: skip
    name = session.house.name or "House without a name"
    return name, [note for note, holds in notes.items() if holds], place_of(session)


def steps_of(session: Session, keymap: Keymap) -> Sequence[str]:
    """The next step, in more words and in fewer."""
    step = next_step(session)
    if step.done:
        return [step.text]
    key = shown_key(BY_ID[step.command].keys_in(keymap)[0])
    return [f"Next: {step.text}{more} (press {key})" for more in dict.fromkeys((step.where, ""))]


def map_offers(session: Session) -> Iterator[str]:
    """The commands that matter on the map now: saving, the next step, then the usual ones."""
    room, surface = session.selection.room, session.selection.surface
    if room is None:
        yield from ("new", "decks", "edit")
        return
    if session.unsaved:
        yield "save"
    bare = session.shown.rooms[room].paints.of(surface) is None
    report = session.report
    serious = report is not None and any(c.severity == "fault" for c in report.causes)
    first = ("findings", "open") if serious and not bare else ("open",)
    usual = ("decks", "findings", "walk", "samples", "schedule", "new", "edit", "light")
    offers = (next_step(session).command, *first, *usual)
    yield from dict.fromkeys(offers)


def place_of(session: Session) -> Sequence[str]:
    """Where the map stands, how many rooms are indoors, and what was found in the whole house."""
    levels = session.plan.levels()
    rooms = sum(room.use != "outdoor" for room in session.shown.rooms.values())
    words = [counted(rooms, "room")]
    if len(levels) > 1:
        here = session.selection.level
        words.insert(0, " ".join(["level", *(f"[{n}]" if n == here else f"{n}" for n in levels)]))
    if session.report is not None and session.report_is_current:
        so_far = " so far" if session.report.deep is None else ""
        words.append(counted(len(session.report.causes), "finding") + so_far)
    return words


def sights_of(session: Session) -> Iterator[Sight]:
    """What the selected room sees, with the openings in the order in which they are passed."""
    room, report = session.selection.room, session.report
    if report is None or room is None:
        return
    graph = report.study.graph
    for other in graph.sees(room):
        sighting = graph.sightings[sorted_pair(room, other)]
        way = sighting.through if sighting.rooms[0] == room else sighting.through[::-1]
        yield Sight(other, way)


def gravest_between(session: Session) -> Mapping[Pair, str]:
    """The severity of the gravest finding between two rooms, by their sorted pair."""
    found: dict[Pair, str] = {}
    for finding in session.report.findings if session.report else ():
        for pair in combinations(sorted(finding.rooms), 2):
            found.setdefault(pair, finding.severity)
    return found


def light_note(session: Session) -> str:
    """Which light is shown, and how many rooms are without it, in a few words."""
    shades = shades_of(session)
    words = f"light: {shades.light}"
    if shades.light_to_come:
        return f"{words} (being computed)"
    count = sum(map(len, shades.unlit.values()))
    return f"{words} ({counted(count, 'room')} unlit)" if count else words


LIGHT_SENTENCES: Mapping[Light, str] = {
    "reference": "The reference light: D65 at 300 lx, the same in every room.",
    "day": "By day, under an overcast sky.",
    "evening": "In the evening, by lamplight.",
}


def light_shown(shades: Shades) -> str:
    """Which light is shown, and which rooms show as under the reference light, with the reason."""
    words = LIGHT_SENTENCES[shades.light]
    if shades.light_to_come:
        return f"{words} Being computed: the reference light is shown until then."
    lacking = []
    for reason, rooms in shades.unlit.items():
        names = ", ".join(plain(shades.house.rooms[room].name) for room in rooms)
        lacking.append(f"{names} ({reason})")
    return f"{words} Shown by reference light: {'; '.join(lacking)}." if lacking else words
