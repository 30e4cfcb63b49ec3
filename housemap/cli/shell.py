"""`housemap completion` and `housemap man`: made of the command table."""

from argparse import Action, Namespace
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

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


# Completion


def _run_completion(arguments: Namespace) -> int:
    makers = {"bash": _bash, "zsh": _zsh, "fish": _fish}
    lines = [*makers[arguments.shell](every_words())]
    show(arguments, lambda: {"shell": arguments.shell, "text": "\n".join(lines)}, lines)
    return DONE


def _bash(commands: Sequence[Words]) -> Iterator[str]:
    yield "# housemap completion bash > ~/.local/share/bash-completion/completions/housemap"
    yield "_housemap() {"
    yield "  local word=${COMP_WORDS[COMP_CWORD]} command=${COMP_WORDS[1]} options="
    yield "  if [ $COMP_CWORD -eq 1 ]; then"
    names = " ".join(each.command.name for each in commands)
    yield f'    COMPREPLY=($(compgen -W "{names} --help" -- "$word") $(compgen -f -- "$word"))'
    yield "    return"
    yield "  fi"
    yield "  case $command in"
    for each in commands:
        yield f"    {each.command.name}) options='{' '.join(each.options)}' ;;"
    yield "  esac"
    yield "  case $word in"
    yield '    -*) COMPREPLY=($(compgen -W "$options" -- "$word")) ;;'
    yield '    *) COMPREPLY=($(compgen -f -- "$word")) ;;'
    yield "  esac"
    yield "}"
    yield "complete -o filenames -F _housemap housemap"


def _zsh(commands: Sequence[Words]) -> Iterator[str]:
    yield "#compdef housemap"
    yield "# housemap completion zsh > a folder of $fpath, as _housemap"
    yield "_housemap() {"
    yield "  if (( CURRENT == 2 )); then"
    yield "    local -a commands=("
    for each in commands:
        yield f"      '{each.command.name}:{_quoted(each.command.summary)}'"
    yield "    )"
    yield "    _describe command commands"
    yield "    _files"
    yield "    return"
    yield "  fi"
    yield "  case $words[2] in"
    for each in commands:
        yield f"    {each.command.name}) compadd -- {' '.join(each.options)} ;;"
    yield "  esac"
    yield "  _files"
    yield "}"
    yield '_housemap "$@"'


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
    lines = [*_man(every_words())]
    show(arguments, lambda: {"text": "\n".join(lines)}, lines)
    return DONE


def _man(commands: Sequence[Words]) -> Iterator[str]:
    """The page in man(7) macros."""
    yield f'.TH HOUSEMAP 1 "" "housemap {__version__}" "User commands"'
    yield ".SH NAME"
    yield r"housemap \- plan the paint of a whole house"
    yield ".SH SYNOPSIS"
    yield ".B housemap"
    yield "[FILE]"
    for each in commands:
        yield ".br"
        yield f".B housemap {each.command.name}"
        yield r"[\-\-help] ..."
    yield ".SH DESCRIPTION"
    yield _roff(OPEN.summary)
    yield ".SH COMMANDS"
    for each in commands:
        yield from _section(each)
    yield ".SH EXIT STATUS"
    yield "0 done; 1 done and something was found; 2 the input cannot be used; 130 ctrl+c."


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
