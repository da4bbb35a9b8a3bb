"""One job in one file: packed from one book, unpacked into another, with all that belongs to it."""

from joblog.packing.nouns import Head, Packed, Unpacked
from joblog.packing.pack import pack
from joblog.packing.unpack import unpack

__all__ = ["Head", "Packed", "Unpacked", "pack", "unpack"]
