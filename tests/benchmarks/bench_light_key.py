"""The key that turns the light, and the page of a room's light, against a key that only selects."""

from tests.benchmarks.measuring import all_found, key_seconds, module, running, saved, show_ratios
from tests.support.big_house import big_house
from tests.support.project import DEMO
from tests.support.terminal import Terminal

ROUNDS = 12


def main() -> None:
    with (
        saved(big_house(60)) as sixty,
        running(module("housemap", str(DEMO)), all_found) as demo,
        running(module("housemap", str(sixty)), all_found) as large,
    ):
        show_ratios(keys("demo house", demo) | keys("60 rooms", large))


def keys(name: str, terminal: Terminal) -> dict[str, list[float]]:
    """Times of each key, the page of the selected room opened in between."""
    times = {
        f"{name}: select a room": pressed(terminal, "tab"),
        f"{name}: turn the light": pressed(terminal, "t"),
    }
    terminal.press("l")
    times[f"{name}: next room's light"] = pressed(terminal, "tab")
    times[f"{name}: try a paint on the walls"] = pressed(terminal, "right")
    terminal.press("escape")
    return times


def pressed(terminal: Terminal, key: str) -> list[float]:
    found = (key_seconds(terminal, key) for _ in range(ROUNDS))
    return [seconds for seconds in found if seconds]


if __name__ == "__main__":
    main()
