"""Material that is carried between jobs, or out of and into the shop."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from joblog.dictation.draft import Draft, Parts, words_of
from joblog.dictation.grammar import Atom, Stretch, is_a
from joblog.dictation.stock import amount_of, thing_of
from joblog.model import STOCK, Entry


def add_carried(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """An amount that came from another job or from the shop, or went there.

    What was used "from the shop" came from there and was used. False where what is named is
    neither a job's name nor a shop: "moved ten panels to the north wall" stays on its job.
    """
    end = _end(draft, parts, stretch)
    thing = thing_of(draft, parts)
    if end is None or thing is None:
        return False
    job, doubt = end
    quantity, why = amount_of(parts)
    named, whys = thing
    if quantity == 0:
        return draft.add(Entry("note", note=words_of(stretch.atoms)))
    came = "f" in parts
    entry = Entry(
        "moved",
        item=named.item,
        quantity=quantity,
        unit=named.unit,
        from_job=job if came else None,
        to_job=None if came else job,
    )
    if not {"v", "y"} & parts.keys() and draft.joined(stretch):
        _carry_what_was_listed(draft, entry)
    draft.verb = "moved"
    added = draft.add(entry, why, doubt, *whys)
    if "y" not in parts:
        return added
    draft.verb = "used"
    used = replace(entry, kind="used", from_job=None)
    return draft.add(used, why, *whys)


def _carry_what_was_listed(draft: Draft, entry: Entry) -> None:
    """ "Took six sheets and two rolls over to the mill job": what was named before "and" too."""
    for at in range(len(draft.entries) - 1, -1, -1):
        by, listed = draft.made_by.get(at), draft.entries[at]
        if by is None or not is_a(by.atoms[0], "CARRIES") or listed.kind == "moved":
            return
        if listed.kind not in ("used", "delivered", "returned"):
            return
        draft.entries[at] = replace(
            entry, item=listed.item, quantity=listed.quantity, unit=listed.unit
        )


def _end(draft: Draft, parts: Parts, stretch: Stretch) -> tuple[str, str | None] | None:
    """The job that is named, or `STOCK`, and a doubt where nobody can tell which job that is."""
    if "s" in parts:
        return STOCK, None
    named = _bare(parts["e"])
    sure = any(is_a(atom, "JOBWORD") for atom in stretch.atoms)
    found = jobs_called(named, draft.vocabulary.jobs)
    if len(found) == 1:
        return found[0], None
    if not sure:
        return None
    return named or "other", f"which job is {named or 'other'!r}?"


def _bare(atoms: Sequence[Atom]) -> str:
    named = (atom for atom in atoms if not is_a(atom, "JOBWORD") and not is_a(atom, "HOUSEWORD"))
    words = words_of([*named]).split()
    while words and words[0] in ("the", "my", "our", "that", "this"):
        words.pop(0)
    return " ".join(words)


def jobs_called(said: str, jobs: Sequence[str]) -> tuple[str, ...]:
    """The jobs that may be called so: by all of the words said, whole or as an owner's name.

    "The other job" is the only other one there is.
    """
    words = _words(said)
    if not words or words <= _ANY_OTHER:
        return tuple(jobs) if len(jobs) == 1 else ()
    exactly = tuple(job for job in jobs if _words(job) == words)
    return exactly or tuple(job for job in jobs if words <= _words(job))


def _words(name: str) -> frozenset[str]:
    said = re.findall(r"[\w']+", name.lower().replace("'", ""))
    return frozenset(word.removesuffix("s") for word in said) - _NO_NAME


_NO_NAME = frozenset("the my our that job house place site project at of".split())
_ANY_OTHER = frozenset("other last next previou old first new same another one".split())
