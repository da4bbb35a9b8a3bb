"""What is said in the folder of a backup itself, to whoever finds it."""

from __future__ import annotations

from joblog.backup.medium import FOLDER, OBJECTS, STATES

READ_ME_TEXT = f"""{FOLDER}

This folder keeps a job log: what was said, photographed and decided on jobs, as it stood at each
moment that is named in "{STATES}". Leave it as it is: do not rename, move or delete anything in it.

To have the book again, on any computer:

    joblog restore FOLDER            FOLDER is where this text lies, or the folder around it
    joblog restore FOLDER --list     shows what there is; --at DAY takes an earlier one

Without joblog: each photo, recording and track log lies whole in "{OBJECTS}", under the SHA-256 of
its bytes, with the ending that it came with, and can be opened there. A state (the newest file in
"{STATES}") is a text that says which file of the book is made of which objects, one after the
other. The book itself, "database", is an SQLite file in pieces; the list of all photos and
recordings, with their places in the book, is "originals", one line each. This small Python program,
run in this folder, puts a file together (here the database of the newest state):

    import json, pathlib
    state = json.loads(sorted(pathlib.Path("{STATES}").glob("*.json"))[-1].read_text("utf-8"))
    with open("book.sqlite", "wb") as book:
        for piece in state["database"]["pieces"]:
            book.write(next(pathlib.Path("{OBJECTS}", piece[:2]).glob(piece + "*")).read_bytes())
"""
