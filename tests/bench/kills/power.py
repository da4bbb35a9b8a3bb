"""What a disk may hold after the plug was pulled, made from the calls of one run.

Of a file, all is there that was written before it was synced last. Of what was written since, any
sectors of 512 bytes may be there and others not, in whatever order, and one of them torn; where a
file had grown, there may be garbage in place of what was written. A name that was made, changed or
taken away is on the disk when its folder was synced; until then it may be there or not, alone or in
the order of a journal, but a change of a name is never half. These are the assumptions that SQLite
makes (a write of a sector need not be whole, a file may grow before it is written), with folders
taken as no better than POSIX promises.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

SECTOR = 512
TORN = 0.02
"""How often a sector that was written is half old and half new."""


@dataclass(frozen=True, slots=True)
class Call:
    """A call that changed the disk, as the shim wrote it down. `tell` is one that told a person
    something."""

    what: str
    path: str
    other: str
    at: int
    bytes: bytes


def calls_of(log: Path) -> Iterator[Call]:
    """The calls in their order."""
    text = log.read_bytes()
    at = 0
    while at < len(text):
        end = text.index(b"\n", at)
        what, path, other, position, length = text[at:end].decode().split("\t")
        at = end + 1 + int(length)
        yield Call(what, path, other, int(position), text[end + 1 : at])


@dataclass(slots=True, eq=False)
class File:
    """What is on the disk for certain, and what was done since: (offset, bytes), or a length to
    which it was cut."""

    durable: bytearray
    pending: list[tuple[int, bytes] | int] = field(default_factory=list)

    def sync(self) -> None:
        self.durable = self._with(Chance.all())
        self.pending.clear()

    def drawn(self, chance: Chance) -> bytes:
        return bytes(self._with(chance))

    def _with(self, chance: Chance) -> bytearray:
        content = bytearray(self.durable)
        for done in self.pending:
            if isinstance(done, int):
                if chance.of_data():
                    _cut(content, done)
                continue
            at, written = done
            while written:
                piece = written[: SECTOR - at % SECTOR]
                written = written[len(piece) :]
                if chance.of_data():
                    if chance.torn():
                        piece = piece[: len(piece) // 2]
                    _put(content, at, piece)
                elif at >= len(content) and chance.of_garbage():
                    _put(content, at, chance.garbage(len(piece)))
                at += SECTOR - at % SECTOR
        return content


def _cut(content: bytearray, length: int) -> None:
    del content[length:]
    content.extend(bytes(length - len(content)))


def _put(content: bytearray, at: int, piece: bytes) -> None:
    content.extend(bytes(max(0, at - len(content))))
    content[at : at + len(piece)] = piece


@dataclass(slots=True, eq=False)
class Renaming:
    """A name that was put into a folder, or taken out of one, or both at once."""

    number: int
    out_of: tuple[Folder, str] | None
    into: tuple[Folder, str, File | Folder] | None
    certain: bool = False

    def apply(self, folder: Folder, names: dict[str, File | Folder]) -> None:
        if self.out_of and self.out_of[0] is folder:
            names.pop(self.out_of[1], None)
        if self.into and self.into[0] is folder:
            names[self.into[1]] = self.into[2]


@dataclass(slots=True, eq=False)
class Folder:
    """The names that are on the disk for certain, those that there are now, and what was done."""

    durable: dict[str, File | Folder] = field(default_factory=dict)
    now: dict[str, File | Folder] = field(default_factory=dict)
    pending: list[Renaming] = field(default_factory=list)

    def sync(self) -> None:
        for done in self.pending:
            done.apply(self, self.durable)
            done.certain = True
        self.pending.clear()

    def drawn(self, chance: Chance) -> dict[str, File | Folder]:
        names = dict(self.durable)
        for done in self.pending:
            if done.certain or chance.of_name(done):
                done.apply(self, names)
        return names


class Chance:
    """What of all that is not certain one disk has."""

    def __init__(self, dice: random.Random, data: float, names: float, last: int | None) -> None:
        self._dice, self._data, self._names, self._last = dice, data, names, last
        self._drawn: dict[int, bool] = {}

    @classmethod
    def all(cls) -> Chance:
        return cls(random.Random(0), 1.0, 1.0, None)

    @classmethod
    def any(cls, dice: random.Random, renamings: int) -> Chance:
        """All, nothing, or some of it; names alone or as far as a journal came."""
        data = dice.choice((0.0, 0.1, 0.5, 0.9, 1.0))
        names = dice.choice((0.0, 0.5, 1.0))
        last = dice.randrange(renamings + 1) if dice.random() < 0.4 else None
        return cls(dice, data, names, last)

    def of_data(self) -> bool:
        return self._data == 1.0 or self._dice.random() < self._data

    def torn(self) -> bool:
        return self._data < 1.0 and self._dice.random() < TORN

    def of_garbage(self) -> bool:
        return self._dice.random() < 0.5

    def garbage(self, length: int) -> bytes:
        return self._dice.choice((bytes(length), self._dice.randbytes(length)))

    def of_name(self, done: Renaming) -> bool:
        if self._last is not None:
            return done.number < self._last
        if done.number not in self._drawn:
            self._drawn[done.number] = self._dice.random() < self._names
        return self._drawn[done.number]


class Disk:
    """A folder on a disk that keeps for certain only what was synced."""

    def __init__(self, template: Path, world: Path) -> None:
        """As the template is, all of it certain. The calls name the folder `world`."""
        self._world = str(world)
        self._renamings = 0
        self.top = _read(template)

    def do(self, call: Call) -> None:
        """Does what a call did."""
        match call.what:
            case "write":
                if isinstance(file := self._at(call.path), File):
                    file.pending.append((call.at, call.bytes))
            case "cut":
                if isinstance(file := self._at(call.path), File):
                    file.pending.append(call.at)
            case "sync":
                if (one := self._at(call.path)) is not None:
                    one.sync()
            case "make":
                self._rename(None, (*self._name(call.path), File(bytearray())))
            case "mkdir":
                self._rename(None, (*self._name(call.path), Folder()))
            case "unlink":
                self._rename(self._name(call.path), None)
            case "rename":
                folder, name = self._name(call.path)
                self._rename((folder, name), (*self._name(call.other), folder.now[name]))
            case "link":
                if (one := self._at(call.path)) is not None:
                    self._rename(None, (*self._name(call.other), one))

    def drawn(self, dice: random.Random | None) -> dict[str, bytes | None]:
        """One disk that there may be: files by their paths, None for a folder; with no dice, the
        one on which everything is."""
        chance = Chance.any(dice, self._renamings) if dice else Chance.all()
        found: dict[str, bytes | None] = {}
        self._draw(self.top, "", chance, found)
        return found

    def _draw(
        self, folder: Folder, path: str, chance: Chance, found: dict[str, bytes | None]
    ) -> None:
        for name, one in folder.drawn(chance).items():
            if isinstance(one, File):
                found[path + name] = one.drawn(chance)
            else:
                found[path + name] = None
                self._draw(one, f"{path}{name}/", chance, found)

    def _rename(
        self, out_of: tuple[Folder, str] | None, into: tuple[Folder, str, File | Folder] | None
    ) -> None:
        done = Renaming(self._renamings, out_of, into)
        self._renamings += 1
        for folder in {id(side[0]): side[0] for side in (out_of, into) if side}.values():
            done.apply(folder, folder.now)
            folder.pending.append(done)

    def _name(self, path: str) -> tuple[Folder, str]:
        above, _, name = path.rpartition("/")
        folder = self._at(above)
        assert isinstance(folder, Folder), path
        return folder, name

    def _at(self, path: str) -> File | Folder | None:
        one: File | Folder | None = self.top
        for name in path[len(self._world) :].split("/"):
            if name:
                one = one.now.get(name) if isinstance(one, Folder) else None
        return one


def _read(folder: Path) -> Folder:
    names: dict[str, File | Folder] = {
        path.name: _read(path) if path.is_dir() else File(bytearray(path.read_bytes()))
        for path in folder.iterdir()
    }
    return Folder(names, dict(names))


def lay(found: dict[str, bytes | None], world: Path) -> None:
    """Makes the folder what a disk holds."""
    for path, content in found.items():
        if content is None:
            (world / path).mkdir(parents=True)
        else:
            (world / path).write_bytes(content)
