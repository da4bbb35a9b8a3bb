"""The command line: one of the faces. A file for each group of commands; they compute nothing."""

from joblog.cli.command import commands, main

__all__ = ["commands", "main"]
