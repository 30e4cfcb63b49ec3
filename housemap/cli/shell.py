"""`housemap completion` and `housemap man`: made of the command table."""

from argparse import Action, Namespace
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files

from housemap import __version__
from housemap.cli.command import DONE, Command, Parser, arg, every_command
from housemap.cli.open import OPEN
from housemap.cli.output import show

SHELLS = ("bash", "zsh", "fish")


@dataclass(frozen=True, slots=True)
class Words:
    """What may be typed behind a command."""

    command: Command
    actions: Sequence[Action]

    @property
    def options(self) -> list[str]:
        return [option for action in self.actions for option in action.option_strings]


def words_of(command: Command) -> Words:
    return Words(command, Parser(command).actions)


def every_words() -> list[Words]:
    return [words_of(command) for command in every_command()]


def _filled(template: str, **parts: str) -> list[str]:
    """The lines of a template, with each part in the place of its name in capitals."""
    text = files(__package__).joinpath("templates", template).read_text("utf-8")
    for name, part in parts.items():
        text = text.replace(f"@{name.upper()}@", part)
    return text.splitlines()


# Completion


def _run_completion(arguments: Namespace) -> int:
    makers: Mapping[str, Callable[[Sequence[Words]], Iterable[str]]]
    makers = {"bash": _bash, "zsh": _zsh, "fish": _fish}
    lines = [*makers[arguments.shell](every_words())]
    show(arguments, lambda: {"shell": arguments.shell, "text": "\n".join(lines)}, lines)
    return DONE


def _bash(commands: Sequence[Words]) -> list[str]:
    cases = (f"    {each.command.name}) options='{' '.join(each.options)}' ;;" for each in commands)
    names = " ".join(each.command.name for each in commands)
    return _filled("completion.bash", names=names, cases="\n".join(cases))


def _zsh(commands: Sequence[Words]) -> list[str]:
    told = (f"      '{c.command.name}:{_quoted(c.command.summary)}'" for c in commands)
    cases = (f"    {c.command.name}) compadd -- {' '.join(c.options)} ;;" for c in commands)
    return _filled("completion.zsh", commands="\n".join(told), cases="\n".join(cases))


def _fish(commands: Sequence[Words]) -> Iterator[str]:
    yield "# housemap completion fish > ~/.config/fish/completions/housemap.fish"
    for each in commands:
        name, summary = each.command.name, _quoted(each.command.summary)
        yield f"complete -c housemap -n __fish_use_subcommand -a {name} -d '{summary}'"
        for action in each.actions:
            for option in action.option_strings:
                flag = f"-l {option[2:]}" if option.startswith("--") else f"-s {option[1:]}"
                needs = "" if action.nargs == 0 else " -r"
                where = f"'__fish_seen_subcommand_from {name}'"
                yield f"complete -c housemap -n {where} {flag}{needs} -d '{_help(action)}'"


def _help(action: Action) -> str:
    return _quoted(" ".join((action.help or "").replace("%%", "%").split()))


def _quoted(text: str) -> str:
    return text.replace("'", "").replace(":", " -")


# The manual page


def _run_man(arguments: Namespace) -> int:
    lines = _man(every_words())
    show(arguments, lambda: {"text": "\n".join(lines)}, lines)
    return DONE


def _man(commands: Sequence[Words]) -> list[str]:
    """The page in man(7) macros."""
    synopsis = [
        line
        for each in commands
        for line in (".br", f".B housemap {each.command.name}", r"[\-\-help] ...")
    ]
    sections = [line for each in commands for line in _section(each)]
    return _filled(
        "housemap.1",
        version=__version__,
        synopsis="\n".join(synopsis),
        summary=_roff(OPEN.summary),
        commands="\n".join(sections),
    )


def _section(each: Words) -> Iterator[str]:
    yield f".SS {each.command.name}"
    yield _roff(each.command.summary)
    for action in each.actions:
        names = ", ".join(action.option_strings) or str(action.metavar or action.dest)
        takes = action.option_strings and action.nargs != 0
        value = f" {action.metavar or action.dest.upper()}" if takes else ""
        yield ".TP"
        yield f"\\fB{_roff(names)}\\fR{_roff(value)}"
        yield _roff(" ".join((action.help or "").replace("%%", "%").split()))
    yield ".PP"
    yield "Examples:"
    for example in each.command.examples:
        yield ".br"
        yield f".B {_roff(example)}"


def _roff(text: str) -> str:
    """Text that the macros leave alone."""
    plain = text.replace("\\", "\\e").replace("-", "\\-")
    return f"\\&{plain}" if plain.startswith((".", "'")) else plain


COMPLETION = Command(
    name="completion",
    summary="Print the completion of commands and options for a shell.",
    examples=("housemap completion bash", "housemap completion fish"),
    arguments=(arg("shell", "which shell", choices=SHELLS),),
    run=_run_completion,
)
MAN = Command(
    name="man",
    summary="Print the manual page.",
    examples=("housemap man > housemap.1", "housemap man | man -l -"),
    run=_run_man,
)
