"""Which pages the handbook has, in the order in which they are read."""

from collections.abc import Iterator
from typing import NamedTuple

from filmbuild.edge.problems import KINDS

ROOT = "/docs"
PROBLEMS = "problems"
REFERENCE = "/v1/docs"


class Entry(NamedTuple):
    """A page: `name` is that of its file under `pages`, without the ending."""

    name: str
    title: str

    @property
    def path(self) -> str:
        return path_of(self.name)


class Part(NamedTuple):
    title: str
    entries: tuple[Entry, ...]


PARTS = (
    Part(
        "Getting started",
        (
            Entry("index", "What this is"),
            Entry("start-invoicing", "From an invoicing system"),
            Entry("start-quote-form", "A quote form on a web page"),
            Entry("start-script", "A back-office script"),
        ),
    ),
    Part(
        "How it works",
        (
            Entry("estimate", "How an estimate is made"),
            Entry("quantities-and-money", "Quantities and money"),
            Entry("revisions", "Revisions"),
            Entry("safety", "Safety wording"),
        ),
    ),
    Part(
        "Calling it",
        (
            Entry("keys", "Keys and scopes"),
            Entry("idempotency", "Idempotency"),
            Entry("preconditions", "Preconditions and ETags"),
            Entry("paging", "Paging"),
            Entry("webhooks", "Webhooks"),
            Entry("limits", "Limits"),
            Entry("errors", "Errors"),
        ),
    ),
    Part(
        "Upkeep",
        (
            Entry("operating", "Running the service"),
            Entry("changelog", "Changelog and versions"),
        ),
    ),
)


def problem_entries() -> tuple[Entry, ...]:
    """One for each kind of problem: its address is the `type` of the problem's documents."""
    return tuple(Entry(f"{PROBLEMS}/{kind.code}", kind.title) for kind in KINDS.values())


def entries() -> Iterator[Entry]:
    for part in PARTS:
        yield from part.entries
    yield from problem_entries()


def path_of(name: str) -> str:
    if name == "index":
        return ROOT
    return f"/{name}" if name.startswith(f"{PROBLEMS}/") else f"{ROOT}/{name}"
