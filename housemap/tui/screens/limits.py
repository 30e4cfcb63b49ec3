"""The limits of the checks, as they hold for the open house."""

from typing import TYPE_CHECKING

from housemap.model.edits import set_limit
from housemap.tui.questions import Choice, Prompt, Question
from housemap.tui.screens.house_base import HouseBase

if TYPE_CHECKING:
    from housemap.checks import Check, Finding, Limit
    from housemap.tui.tasks.findings import FindingPanel


class Limits(HouseBase):
    """Actions that set a limit, or give it back its default."""

    def on_finding_panel_limit_asked(self, message: "FindingPanel.LimitAsked") -> None:
        """Ask for the limit, and for which one where several decide."""
        from housemap.checks import check_of  # noqa: PLC0415 - a report is there, so is this
        from housemap.tui.tasks.findings_drawing import limits_of  # noqa: PLC0415 - the same

        finding = message.matter.first
        check = check_of(finding.check)
        limits = limits_of(finding, check)
        if not limits:
            self.say(f"{check.title} has no limit that could be set.")
        elif message.default:
            self._restore(check, limits)
        elif len(limits) == 1:
            self._ask_limit(check, limits[0], finding)
        else:
            self._ask_which(check, limits, finding)

    def _restore(self, check: "Check", limits: "tuple[Limit, ...]") -> None:
        house = self.session.house
        for limit in limits:
            house = set_limit(house, check.id, limit.kind, None)
        if not self.apply(house, f"{check.title}: default limit"):
            self.say("The limit is the default already.")

    def _ask_which(self, check: "Check", limits: "tuple[Limit, ...]", finding: "Finding") -> None:
        choices = [Choice(str(n), limit.kind, limit.kind) for n, limit in enumerate(limits, 1)]

        def answered(kind: str | None) -> None:
            limit = next((limit for limit in limits if limit.kind == kind), None)
            if limit is not None:
                self._ask_limit(check, limit, finding)

        text = f"Which limit of {check.title}?"
        self.app.push_screen(Question(text, choices, "leave it", self.look), answered)

    def _ask_limit(self, check: "Check", limit: "Limit", finding: "Finding") -> None:
        held = check.limits_in(self.session.house)[limit.kind]
        found = (
            f", found {finding.value:.1f}" if finding.value and limit.kind == finding.kind else ""
        )
        text = f"{check.title}, {limit.kind} in {limit.unit} (default {limit.default:g}{found}):"

        def answered(answer: str | None) -> None:
            if answer:
                self._set_limit(check, limit, answer)

        self.app.push_screen(Prompt(text, f"{held:g}", self.look, replaces=True), answered)

    def _set_limit(self, check: "Check", limit: "Limit", answer: str) -> None:
        try:
            value = float(answer.replace(",", "."))
        except ValueError:
            self.say(f'a limit is a number, such as {limit.default:g}; found "{answer}"')
            return
        label = f"{check.title}, {limit.kind}: limit {value:g}"
        self.apply(lambda house: set_limit(house, check.id, limit.kind, value), label)
