"""What the service is sent and what it answers: records.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from typing import Any

from filmbuild_sdk.values import Answer, Moment


class FieldChange(Answer, frozen=True, kw_only=True):
    """One field, by a JSON Pointer into the record as it was written ("" is the whole of it).

    Without `was` it is new, without `now` it is gone. Lists are compared place by place.
    """

    pointer: str
    now: Any | None = None
    was: Any | None = None


class RecordEvent(Answer, frozen=True, kw_only=True):
    """What one revision did to the record: who made it and when, and each field that changed."""

    revision: int
    created_at: Moment
    author: str
    note: str
    action: str
    fields: tuple[FieldChange, ...]


class RecordHistoryPage(Answer, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[RecordEvent, ...]
    next: str | None
