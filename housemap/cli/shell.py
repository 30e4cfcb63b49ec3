"""`housemap completion` and `housemap man`: made of the command table."""

from argparse import Action, Namespace
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from importlib.resources import files

from housemap import __version__
from housemap.cli.command import DONE, Command, Parser, arg, every_command
from housemap.cli.main import OPEN
from housemap.cli.output import show

SHELLS = ("bash", "zsh", "fish")


def every_parser() -> list[Parser]:
    return [*map(Parser, every_command())]


def _filled(template: str, **parts: str) -> list[str]:
    """The lines of a template, with each part in the place of its name in capitals."""
    text = files(__package__).joinpath("templates", template).read_text("utf-8")
    for name, part in parts.items():
        text = text.replace(f"@{name.upper()}@", part)
    return text.splitlines()


# Completion


def _run_completion(arguments: Namespace) -> int:
    makers: Mapping[str, Callable[[Sequence[Parser]], Iterable[str]]]
    makers = {"bash": _bash, "zsh": _zsh, "fish": _fish}
    lines = [*makers[arguments.shell](every_parser())]
    show(arguments, lambda: {"shell": arguments.shell, "text": "\n".join(lines)}, lines)
    return DONE


def _bash(parsers: Sequence[Parser]) -> list[str]:
    cases = (f"    {each.command.name}) options='{' '.join(each.options)}' ;;" for each in parsers)
    names = " ".join(each.command.name for each in parsers)
    return _filled("completion.bash", names=names, cases="\n".join(cases))


def _zsh(parsers: Sequence[Parser]) -> list[str]:
    told = (f"      '{each.command.name}:{_quoted(each.command.summary)}'" for each in parsers)
    cases = (f"    {each.command.name}) compadd -- {' '.join(each.options)} ;;" for each in parsers)
    return _filled("completion.zsh", commands="\n".join(told), cases="\n".join(cases))


def _fish(parsers: Sequence[Parser]) -> Iterator[str]:
    yield "# housemap completion fish > ~/.config/fish/completions/housemap.fish"
    for each in parsers:
        name, summary = each.command.name, _quoted(each.command.summary)
        yield f"complete -c housemap -n __fish_use_subcommand -a {name} -d '{summary}'"
        for action in each.actions:
            text = _quoted(_help(action))
            for option in action.option_strings:
                flag = f"-l {option[2:]}" if option.startswith("--") else f"-s {option[1:]}"
                needs = "" if action.nargs == 0 else " -r"
                where = f"'__fish_seen_subcommand_from {name}'"
                yield f"complete -c housemap -n {where} {flag}{needs} -d '{text}'"


def _help(action: Action) -> str:
    """On one line, as it is shown."""
    return " ".join((action.help or "").replace("%%", "%").split())


def _quoted(text: str) -> str:
    return text.replace("'", "").replace(":", " -")


# The manual page


def _run_man(arguments: Namespace) -> int:
    """The page in man(7) macros."""
    parsers = every_parser()
    names = (each.command.name for each in parsers)
    synopsis = (f".br\n.B housemap {name}\n" + r"[\-\-help] ..." for name in names)
    lines = _filled(
        "housemap.1",
        version=__version__,
        synopsis="\n".join(synopsis),
        summary=_roff(OPEN.summary),
        commands="\n".join(line for each in parsers for line in _section(each)),
    )
    show(arguments, lambda: {"text": "\n".join(lines)}, lines)
    return DONE


def _section(parser: Parser) -> Iterator[str]:
    yield f".SS {parser.command.name}"
    yield _roff(parser.command.summary)
    for action in parser.actions:
        names = ", ".join(action.option_strings) or str(action.metavar or action.dest)
        takes = action.option_strings and action.nargs != 0
        value = f" {action.metavar or action.dest.upper()}" if takes else ""
        yield ".TP"
        yield f"\\fB{_roff(names)}\\fR{_roff(value)}"
        yield _roff(_help(action))
    yield ".PP"
    yield "Examples:"
    for example in parser.command.examples:
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
