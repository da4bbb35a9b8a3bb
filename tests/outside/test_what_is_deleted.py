"""Nothing of a person's is deleted: every place that deletes or overwrites says why it may.

A new one fails this test until it is told in `WHY` what becomes of what was there.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
SQL = re.compile(
    r"\b(?:DELETE\s+FROM|UPDATE\s+(?!OF\b)[\w{]+\s+SET|INSERT\s+OR\s+REPLACE|REPLACE\s+INTO|DROP\s+TABLE"
    r"|TRUNCATE)\b",
)
CALLS = frozenset({
    "unlink", "rmdir", "rmtree", "remove", "removedirs", "renames", "move",
    "write_bytes", "write_text", "copyfile", "copy2", "copytree", "copy",
})  # fmt: skip
MAYBE = re.compile(rf"{SQL.pattern}|\.(?:{'|'.join(CALLS)}|replace|rename|truncate|open)\(")


def test_whatever_deletes_or_overwrites_says_why_it_may() -> None:
    found = set(places())
    assert found - WHY.keys() == set(), "say in WHY what becomes of what was there"
    assert WHY.keys() - found == set(), "these are gone; take them out of WHY"


def places() -> Iterator[str]:
    for folder in ("joblog", "tui/joblog_tui"):
        for path in sorted((ROOT / folder).rglob("*.py")):
            if "training" not in path.parts:
                name = path.relative_to(ROOT).as_posix().removesuffix(".py")
                text = path.read_text("utf-8")
                if MAYBE.search(text):  # To parse all of them takes seconds.
                    yield from places_in(name, ast.parse(text))


def places_in(name: str, tree: ast.Module) -> Iterator[str]:
    """The functions, and the names given at the top, that may take something away."""
    for part in tree.body:
        inside = part.body if isinstance(part, ast.ClassDef) else [part]
        for one in inside:
            if any(map(takes_away, ast.walk(one))):
                yield f"{name}:{called(one)}"


def called(part: ast.stmt) -> str:
    if isinstance(part, ast.Assign):
        return ast.unparse(part.targets[0])
    return str(getattr(part, "name", "") or ast.unparse(part).splitlines()[0])


def takes_away(node: ast.AST) -> bool:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return bool(SQL.search(node.value))
    if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Attribute):
        return False
    what, given = node.func.attr, len(node.args)
    if what in ("replace", "rename", "truncate"):
        # Of a path or file; those of a text have two, and those of a noun name what they change.
        return given == 1 and not node.keywords
    if what == "open":
        return any(
            isinstance(one, ast.Constant) and isinstance(one.value, str) and one.value[:1] in "wa"
            for one in node.args
        )
    return what in CALLS and not (what in ("remove", "copy", "move") and not is_of_files(node.func))


def is_of_files(function: ast.Attribute) -> bool:
    """`os.remove` and `shutil.move`, and not those of a list or of a screen."""
    return isinstance(function.value, ast.Name) and function.value.id in ("os", "shutil")


STEP = "a step keeps what was there before; undo and joblog bin bring it back"
NEVER_HIS = "noted by joblog alone; it is worked out again, or asked for again"
ANEW = "made anew of rows that stay"
PASSING = "what was passing through, half written or taken in already, of no other file"
ASIDE = "what was there is kept beside it under another name"
NAMED = "a file that a person named for this, and no other that is there"
AS_WRITTEN = "the row is as it was written once more, and what was damaged in it is told"
NEWER = "a pack of the same job holds all that was here and goes on from it"
MARKS = "the history: what was decided stays, and what became of it is marked"
MAKER = "a new file, in a folder that was made for it"
BACKUP = (
    "of a backup, where every object is under its SHA-256, or in a new folder that is not in use"
)

WHY = {
    "joblog/aloud/voices:_wave": MAKER,
    "joblog/audio/day_recorder:__init__": MAKER,
    "joblog/audio/player:_write": PASSING,
    "joblog/audio/speaker:close": MAKER,
    "joblog/backup/assembling:assemble": BACKUP,
    "joblog/backup/medium:write": BACKUP,
    "joblog/backup/medium:look_at": ASIDE,
    "joblog/backup/medium:delete": "states that a person said not to keep, with --keep",
    "joblog/backup/medium:_sweep": PASSING,
    "joblog/backup/medium:settle": BACKUP,
    "joblog/backup/medium:_dropped": PASSING,
    "joblog/backup/passing:passing_in": PASSING,
    "joblog/backup/passing:_sweep": PASSING,
    "joblog/backup/pruning:prune": "states that a person said not to keep, with --keep",
    "joblog/backup/stated:with_damaged_put_aside": ASIDE,
    "joblog/backup/restoring:_restored": BACKUP,
    "joblog/backup/restoring:restore": BACKUP,
    "joblog/backup/restoring:_alone": PASSING,
    "joblog/backup/restoring:_restore_database": BACKUP,
    "joblog/backup/restoring:_make_whole": BACKUP,
    "joblog/backup/restoring:_restore_files": BACKUP,
    "joblog/book/beside:clear": PASSING,
    "joblog/book/beside:put": NEVER_HIS,
    "joblog/book/copies:keep_print": NEVER_HIS,
    "joblog/book/database:insert": "earlier jobs alone are put over others, and a step keeps those",
    "joblog/book/entries:add_version": "an entry's job and moment, which its versions keep",
    "joblog/book/pages:forget": NEVER_HIS,
    "joblog/book/last_writes:_keep_aside": ASIDE,
    "joblog/book/looked_at:note": NEVER_HIS,
    "joblog/book/making:make": "what a making that was killed left, which held nothing",
    "joblog/book/media:stow": PASSING,
    "joblog/book/media:stow_from": PASSING,
    "joblog/book/media:put_aside": ASIDE,
    "joblog/book/media:discard": "a copy that no book holds; the file it was made of stays",
    "joblog/book/media:sweep": PASSING,
    "joblog/book/media:_move": ASIDE,
    "joblog/book/mending:_put": AS_WRITTEN,
    "joblog/book/mending:_kept_aside": ASIDE,
    "joblog/book/nouns:_write_recording": STEP,
    "joblog/book/nouns:_write_photo": STEP,
    "joblog/book/nouns:_write_tie": STEP,
    "joblog/book/nouns:_write_clock": STEP,
    "joblog/book/nouns:_write_fence": STEP,
    "joblog/book/nouns:_write_plan": STEP,
    "joblog/book/nouns:write_lines": STEP,
    "joblog/book/nouns:_taken_back": "only that one was taken back; every version stays",
    "joblog/book/nouns:_write_signing": STEP,
    "joblog/book/nouns:_write_past": STEP,
    "joblog/book/repeating:_clear_away": NEVER_HIS,
    "joblog/book/repeating:_remove": PASSING,
    "joblog/book/schema_of_steps:more_changes": "the table is made anew with all of its rows",
    "joblog/book/schema_of_steps:_COLUMNS": "columns that are new, filled in",
    "joblog/book/seals:watch": NEVER_HIS,
    "joblog/book/seals:seal": NEVER_HIS,
    "joblog/book/seals:seal_all": NEVER_HIS,
    "joblog/book/seals:seal_definitions": NEVER_HIS,
    "joblog/book/seals:forget_stray": AS_WRITTEN,
    "joblog/book/seals:forget_gone": AS_WRITTEN,
    "joblog/book/searching:catch_up": ANEW,
    "joblog/book/searching:fill": ANEW,
    "joblog/book/searching:make_anew": ANEW,
    "joblog/book/searching:_named": ANEW,
    "joblog/book/searching:_IN_WORDS": ANEW,
    "joblog/book/searching:_LEFT_BEHIND": ANEW,
    "joblog/book/searching:_note": ANEW,
    "joblog/book/soundness:legible": "a copy in memory; the file is left as it is",
    "joblog/book/seen:_write": NEVER_HIS,
    "joblog/book/spool:__init__": PASSING,
    "joblog/book/spool:put": PASSING,
    "joblog/book/spool:done": "an utterance that is in the book, with its original",
    "joblog/book/spool:_put_aside": ASIDE,
    "joblog/book/steps:forget": MARKS,
    "joblog/book/steps:_marked": MARKS,
    "joblog/book/store:set_plan": STEP,
    "joblog/book/store:change_catalog": STEP,
    "joblog/book/store:set_setting": "what a person settles for good is a step; no other is his",
    "joblog/book/ties:tie_photos": ANEW,
    "joblog/book/verify:heal": ASIDE,
    "joblog/book/verify:copy": MAKER,
    "joblog/book/verify:_copy_originals": MAKER,
    "joblog/packing/file:write": NAMED,
    "joblog/packing/file:_write": NAMED,
    "joblog/packing/load:_rows_in_memory": "a copy in memory; the file is left as it is",
    "joblog/packing/unpack:job": NEWER,
    "joblog/packing/unpack:_put": NEWER,
    "joblog/packing/unpack:_put_away": NEWER,
    "joblog/service/files:put": NAMED,
    "joblog/service/files:_write": NAMED,
    "joblog/service/files:_moved_without_harm": NAMED,
    "joblog/service/pictures:_gone": PASSING,
}
