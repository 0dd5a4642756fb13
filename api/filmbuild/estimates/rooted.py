"""Faults of a part of a body, told as faults of the body."""

from collections.abc import Iterator
from contextlib import contextmanager

from filmbuild.errors import Fault, FilmbuildError


@contextmanager
def rooted(at: str) -> Iterator[None]:
    """What is raised inside is about the value at the pointer `at`."""
    try:
        yield
    except FilmbuildError as error:
        faults = (Fault(at + one.pointer, one.code, one.detail) for one in error.faults)
        raise type(error)(error.detail, tuple(faults)) from error
