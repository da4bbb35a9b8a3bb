"""The one error of the service, and how the errors of the rooms below become it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import wraps
from typing import ParamSpec, TypeVar

from joblog.book.errors import BookError

Asked = ParamSpec("Asked")
Answer = TypeVar("Answer")


class ServiceError(Exception):
    """What was asked cannot be done. Its text is one plain line: what happened, and what to do."""


class FieldError(ServiceError):
    """What was filled in cannot be so. `field` is the line at fault, if known."""

    def __init__(self, why: str, field: str | None) -> None:
        super().__init__(why)
        self.field = field


@contextmanager
def refusing(*kinds: type[Exception]) -> Iterator[None]:
    """What the book refuses, and errors of these kinds, as `ServiceError` in the same words."""
    caught: tuple[type[Exception], ...] = (BookError, *kinds)
    try:
        yield
    except caught as error:
        raise ServiceError(str(error)) from error


def use_case(work: Callable[Asked, Answer]) -> Callable[Asked, Answer]:
    """Marks what a face may ask for: it raises `ServiceError`, and no error of a room below."""

    @wraps(work)
    def asked(*args: Asked.args, **kwargs: Asked.kwargs) -> Answer:
        with refusing():
            return work(*args, **kwargs)

    return asked
