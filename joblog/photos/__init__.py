"""Pictures in: what a photo is, when and where it was taken, and which words it belongs to."""

from joblog.photos.picture import PhotoError
from joblog.photos.read import read
from joblog.photos.thumbnail import thumbnail
from joblog.photos.tie import tie

__all__ = ["PhotoError", "read", "thumbnail", "tie"]
