"""What a job may be talking about: its own items, places and tasks first, then the catalog's."""

from __future__ import annotations

from collections.abc import Sequence

from joblog.catalog.lines import starter
from joblog.model import Catalog, Job, Plan, Vocabulary


def vocabulary(
    plan: Plan,
    job: Job | None = None,
    catalog: Catalog | None = None,
    jobs: Sequence[str] = (),
) -> Vocabulary:
    """The plan's items before the catalog's, so that "nails" means the job's own nails.

    Without a catalog it is the starter's items that are known. `jobs` are the names of all jobs of
    the book; `job` is none of the others.
    """
    known = starter() if catalog is None else catalog.items
    planned = tuple(line.item for line in plan.items)
    names = {item.name for item in planned}
    places = dict.fromkeys((*plan.places, *(job.places if job else ())))
    return Vocabulary(
        items=planned + tuple(item for item in known if item.name not in names),
        places=tuple(places),
        tasks=tuple(line.task for line in plan.tasks),
        jobs=tuple(name for name in jobs if job is None or name != job.name),
        planned=len(planned),
    )
