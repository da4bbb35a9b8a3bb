"""The command itself: runs one of the groups, and ends whatever goes wrong in one plain line."""

from __future__ import annotations

import os
import sys
from importlib import import_module
from typing import Any

import click

from joblog.cli.completing import answer_shells
from joblog.cli.printing import complain
from joblog.cli.signs import write_what_it_can


def main() -> None:
    """Runs the command line. Whatever goes wrong ends in one plain line and exit status 1."""
    write_what_it_can()
    completing = answer_shells()
    try:
        status = commands(standalone_mode=False, prog_name="joblog")
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except (click.Abort, KeyboardInterrupt):
        complain("stopped.")
        sys.exit(130)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(1)
    except UnicodeEncodeError:
        complain(
            "Error: what was typed holds signs that this terminal's settings cannot tell; set LANG"
            " to one with UTF-8, such as en_US.UTF-8, or name it otherwise."
        )
        sys.exit(1)
    except Exception as error:
        if os.environ.get("JOBLOG_TRACE"):
            raise
        if completing:  # Nothing to offer; a complaint would land in what is being typed.
            sys.exit(1)
        complain(str(error) if _for_a_person(error) else f"{type(error).__name__}: {error}")
        sys.exit(1)
    finally:
        _tell_what_was_closed()
    sys.exit(status if isinstance(status, int) else 0)


def _tell_what_was_closed() -> None:
    """A book that others could read was closed to them, which is done once, whatever was asked."""
    # Most commands of which this is true never load it, and --help stays quick.
    owner = sys.modules.get("joblog.book.owner")
    for folder in owner.closed if owner else ():
        complain(
            f"{folder}: others on this computer could read this book. It is yours alone now;"
            " whoever else is to read it must be allowed to again."
        )


def _for_a_person(error: Exception) -> bool:
    """True for errors that were written for a person to read."""
    return type(error).__module__.startswith(("joblog.", "joblog_tui."))


COMMANDS = {
    "adding": ("add", "write"),
    "bidding": ("bid",),
    "bin": ("bin",),
    "buying": ("catalog", "order", "takeoff"),
    "checking": ("check", "copy"),
    "closing": ("close", "rates"),
    "completing": ("completion",),
    "cutting": ("cuts",),
    "deciding": (
        "clock", "done", "drop", "edit", "history", "merge", "move", "redo", "split", "tie", "undo",
        "withdraw",
    ),
    "demo": ("demo",),
    "ground": ("fence", "site"),
    "house": ("house",),
    "jobs": ("jobs", "new", "plan", "use"),
    "keeping_safe": ("backup", "restore"),
    "listening": ("listen",),
    "looking": (
        "covered", "day", "entries", "photos", "recordings", "search", "sign", "squareup", "todo",
    ),
    "packing": ("pack", "unpack"),
    "papers": ("paper",),
    "review": ("review",),
    "stock": ("stock",),
    "trying": ("fetch-model", "hear", "parse"),
    "voice": ("voice",),
    "watching": ("watch",),
}  # fmt: skip
"""Which file has which commands. Only the file of the one that is asked for is loaded."""
FILES = {name: file for file, names in COMMANDS.items() for name in names}


class _Commands(click.Group):
    def list_commands(self, context: click.Context) -> list[str]:
        return sorted(FILES)

    def get_command(self, context: click.Context, name: str) -> click.Command | None:
        if name not in FILES:
            return None
        command: click.Command = getattr(
            import_module(f"joblog.cli.{FILES[name]}"), name.replace("-", "_")
        )
        return command

    def invoke(self, context: click.Context) -> Any:
        """What the service refuses is said as click says what is wrong with a command."""
        try:
            return super().invoke(context)
        except Exception as error:
            # Loaded only where something went wrong, so that --help stays quick.
            from joblog.service import ServiceError

            if isinstance(error, ServiceError):
                raise click.ClickException(str(error)) from error
            raise


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="joblog")
def commands() -> None:
    """Voice-and-photo job log: what was planned, installed, wasted, and how long it took."""
