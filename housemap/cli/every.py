"""Every command of the command line, in the order in which help lists them."""

from housemap.cli.about import ABOUT
from housemap.cli.check import CHECK
from housemap.cli.command import Command
from housemap.cli.deck import DECK
from housemap.cli.diff import DIFF
from housemap.cli.facts import FACTS
from housemap.cli.fill import FILL
from housemap.cli.guide import GUIDE
from housemap.cli.merge import MERGE
from housemap.cli.open import OPEN
from housemap.cli.rank import RANK
from housemap.cli.saves import SAVES
from housemap.cli.schedule import SCHEDULE
from housemap.cli.scheme import SCHEME
from housemap.cli.shell import COMPLETION, MAN
from housemap.cli.sight import SIGHT
from housemap.cli.survey import SURVEY
from housemap.cli.view import VIEW

COMMANDS: tuple[Command, ...] = (
    SURVEY,
    CHECK,
    FACTS,
    SIGHT,
    RANK,
    FILL,
    VIEW,
    SCHEDULE,
    SCHEME,
    DIFF,
    MERGE,
    SAVES,
    DECK,
    GUIDE,
    ABOUT,
    COMPLETION,
    MAN,
)

__all__ = ["COMMANDS", "OPEN"]
