"""What a shell offers while a command is typed, and joblog completion, which says how to have it.

A value's names come from the book. The shells' side is click's own, but for names with blanks in
bash and with commas in fish, which jobs and files have.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click
from click.shell_completion import (
    BashComplete,
    CompletionItem,
    FishComplete,
    add_completion_class,
    split_arg_string,
)

from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service.at_hand import Of

    Completed = list[CompletionItem[str]]

ASKED = "_JOBLOG_COMPLETE"
"""The environment variable by which a shell asks."""


def names(*of: Of) -> Callable[[click.Context, click.Parameter, str], Completed]:
    """Completes a value by names from the book, of the job that is named before it."""

    def complete(context: click.Context, parameter: click.Parameter, begun: str) -> Completed:
        return _offered(context, of, begun)

    return complete


def catalog_words(context: click.Context, parameter: click.Parameter, begun: str) -> Completed:
    """Completes the words of joblog catalog: what is to be done, with a name, or a file."""
    before = context.params.get("words") or ()
    if not before:
        words = [CompletionItem(word) for word in _CATALOG_WORDS if word.startswith(begun)]
        return words or [CompletionItem(begun, type="file")]
    if len(before) == 1 and before[0] in ("set", "drop"):
        return _offered(context, ("items", "tasks"), begun)
    if before[0] == "same" and len(before) == 2:
        return _offered(context, ("items",), begun)
    return []


_CATALOG_WORDS = ("set", "drop", "same", "own")


def bid_numbers(context: click.Context, parameter: click.Parameter, begun: str) -> Completed:
    """Completes what can be set in a bid: "margin=", "soffit panel.price="."""
    from joblog.service.bidding import GENERAL_NUMBERS, OF_ITEM, OF_TASK

    offered = [f"{name}=" for name in GENERAL_NUMBERS]
    lines: tuple[tuple[Of, tuple[str, ...]], ...] = (("items", OF_ITEM), ("tasks", OF_TASK))
    for of, numbers in lines:
        line = begun.partition(".")[0]
        known = (one.value for one in _offered(context, (of,), line))
        offered += [f"{name}.{number}=" for name in known for number in numbers]
    return [CompletionItem(one) for one in offered if one.lower().startswith(begun.lower())]


def _offered(context: click.Context, of: Sequence[Of], begun: str) -> Completed:
    from joblog.service.at_hand import at_hand

    place, job = context.params.get("place"), context.params.get("job")
    if place is None:
        return []
    found: dict[str, CompletionItem[str]] = {}
    for name, beside in (name for one in of for name in at_hand(place, one, job)):
        # What could end a line of the shell's is left to be typed.
        if name.lower().startswith(begun.lower()) and name == plain(name):
            found.setdefault(name.lower(), CompletionItem(name, help=plain(beside) or None))
    return list(found.values())


# --- the shells' side ---------------------------------------------------------------------------


def answer_shells() -> bool:
    """Whether a shell asks; then what it is told is made fit for it."""
    if ASKED not in os.environ:
        return False
    add_completion_class(_Bash)
    add_completion_class(_Fish)
    return True


class _Bash(BashComplete):
    """Names with blanks are told as they would be typed."""

    source_template = """\
%(complete_func)s() {
    local IFS=$'\\n' type value
    COMPREPLY=()
    while IFS=',' read -r type value; do
        case $type in
            dir) compopt -o dirnames ;;
            file) compopt -o default ;;
            plain) COMPREPLY+=("$value") ;;
        esac
    done < <(env COMP_WORDS="${COMP_WORDS[*]}" COMP_CWORD="$COMP_CWORD" \
%(complete_var)s=bash_complete "$1")
}
complete -o nosort -F %(complete_func)s %(prog_name)s
"""

    def get_completion_args(self) -> tuple[list[str], str]:
        args = list(self._joined(self._typed()))
        *before, begun = [next(iter(split_arg_string(word)), "") for word in args]
        return before, begun

    def format_completion(self, item: CompletionItem[str]) -> str:
        typed = self._typed()[-1]
        if item.type != "plain":
            return super().format_completion(item)
        quoted = typed[:1] in ("'", '"')
        special = r'(["\\$`])' if quoted else r"([^\w@%+:,./=-])"
        return f"plain,{re.sub(special, _ESCAPED, item.value)}"

    @staticmethod
    def _typed() -> list[str]:
        """The words behind the command up to the one that is being typed, as they were typed."""
        words = os.environ["COMP_WORDS"].split("\n")
        at = int(os.environ["COMP_CWORD"])
        return [*words[1:at], words[at] if at < len(words) else ""]

    @staticmethod
    def _joined(words: Sequence[str]) -> Iterator[str]:
        """The same with --job=NAME as one word, which bash takes apart."""
        held = ""
        for word in words:
            if word == "=" and held.startswith("--"):
                held += "="
            elif held.startswith("--") and held.endswith("="):
                held += word
            else:
                if held:
                    yield held
                held = word
        yield held


_ESCAPED = r"\\\1"


class _Fish(FishComplete):
    """Commas in names are no end of them."""

    source_template = FishComplete.source_template.replace('split ","', 'split -m 1 ","')


# --- how to have it -----------------------------------------------------------------------------

_FILES = {
    "bash": "~/.bashrc",
    "zsh": "~/.zshrc",
    "fish": "~/.config/fish/completions/joblog.fish",
}
_LINES = {
    "bash": f'eval "$({ASKED}=bash_source joblog)"',
    "zsh": f'autoload -Uz compinit && compinit\neval "$({ASKED}=zsh_source joblog)"',
    "fish": f"{ASKED}=fish_source joblog | source",
}


@click.command()
@click.argument("shell", required=False, type=click.Choice(list(_FILES)))
def completion(shell: str | None) -> None:
    """Print what to put into which file, so that the Tab key completes commands and names.

    Jobs, items, places, days, recordings, photos and entries are completed from the book.
    """
    shell = shell or _own_shell()
    if shell is None:
        raise click.UsageError(f"which shell is it? Say one of: {', '.join(_FILES)}")
    click.echo(f"# {shell}: put this into {_FILES[shell]} and open a new terminal.", err=True)
    click.echo(_LINES[shell])
    if shutil.which("joblog") is None:
        click.echo(
            "# A shell has to find joblog by its name for that: pipx install . puts it there.",
            err=True,
        )


def _own_shell() -> str | None:
    """The shell that this was typed into, else the one of this account; None for another."""
    import psutil

    try:
        above = [process.name() for process in psutil.Process().parents()[:2]]
    except psutil.Error:
        above = []
    kinds = [*above, Path(os.environ.get("SHELL", "")).name]
    return next((kind for kind in kinds if kind in _FILES), None)
