"""What became of one record over the revisions of the catalogue, field by field."""

from itertools import pairwise
from typing import Literal

import msgspec

from filmbuild.catalogue import versions
from filmbuild.catalogue.authored import FieldChange, field_changes
from filmbuild.catalogue.service import WORDS
from filmbuild.catalogue.store import Kind
from filmbuild.catalogue.versions import Version
from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import NotFound
from filmbuild.pipeline.results.base import Moment


class RecordEvent(msgspec.Struct, frozen=True, kw_only=True):
    """What one revision did to the record: who made it and when, and each field that changed."""

    revision: int
    created_at: Moment
    author: str
    note: str
    action: Literal["created", "changed", "retired", "restored"]
    fields: tuple[FieldChange, ...]


class RecordHistoryPage(msgspec.Struct, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[RecordEvent, ...]
    next: str | None


class _Turn(msgspec.Struct, frozen=True):
    """A revision that changed the record: its text before and after, where there was one."""

    revision: int
    action: Literal["created", "changed", "retired", "restored"]
    was: str | None
    now: str | None


async def history(
    database: Database, organisation: str, kind: Kind, name: str, query: PageQuery, path: str
) -> RecordHistoryPage:
    """Raises `NotFound` where there never was such a record."""
    last = paging.after_number(query, path)
    async with database.reader(organisation) as connection:
        found = await versions.of_record(connection, organisation, kind, name)
        if not found:
            raise NotFound(f'The catalogue never had a {WORDS[kind.name]} "{name}".')
        turns = [one for one in _turns(found) if last is None or one.revision < last]
        page = turns[: query.limit]
        authors = await versions.authors(connection, organisation, [one.revision for one in page])
    events = tuple(
        RecordEvent(
            revision=one.revision,
            created_at=authors[one.revision].created_at,
            author=authors[one.revision].author,
            note=authors[one.revision].note,
            action=one.action,
            fields=field_changes(one.was, one.now),
        )
        for one in page
    )
    more = len(turns) > len(page)
    return RecordHistoryPage(
        items=events, next=paging.cursor(query, path, str(page[-1].revision)) if more else None
    )


def _turns(found: tuple[Version, ...]) -> list[_Turn]:
    """Newest first."""
    turns = [_Turn(found[0].revision_from, "created", None, found[0].text)]
    for before, after in pairwise(found):
        if before.revision_to == after.revision_from:
            turns.append(_Turn(after.revision_from, "changed", before.text, after.text))
        elif before.revision_to is not None:
            turns.append(_Turn(before.revision_to, "retired", before.text, None))
            turns.append(_Turn(after.revision_from, "restored", None, after.text))
    if found[-1].revision_to is not None:
        turns.append(_Turn(found[-1].revision_to, "retired", found[-1].text, None))
    return turns[::-1]
