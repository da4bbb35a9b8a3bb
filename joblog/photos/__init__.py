"""Pictures in: what a photo is, when and where it was taken, and which words it belongs to."""

from joblog.photos.assign import assign
from joblog.photos.clock import clocks
from joblog.photos.picture import PhotoError
from joblog.photos.read import read
from joblog.photos.thumbnail import thumbnail

__all__ = ["PhotoError", "assign", "clocks", "read", "thumbnail"]
