"""The one door: every use case of joblog, for whatever face asks. Knows no face.

Each is a plain function that takes values and gives nouns of `joblog.model`. What it refuses
comes as `ServiceError`, whose text is for a person. Open a book with `places.opened`, a job of it
with `desk.desk_at`, and go on from there.
"""

from joblog.service.desk import Desk, desk_at, open_desk
from joblog.service.errors import ServiceError
from joblog.service.places import Place, opened, place_of

__all__ = ["Desk", "Place", "ServiceError", "desk_at", "open_desk", "opened", "place_of"]
