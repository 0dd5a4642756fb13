"""What the service is sent and what it answers: service.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from filmbuild_sdk.values import Answer


class Health(Answer, frozen=True, kw_only=True):
    """The process is up; whether it can do its work is asked of /v1/readiness."""

    status: str = "up"


class Readiness(Answer, frozen=True, kw_only=True):
    """Everything that all requests depend on answers.

    `worker` is about background work: this process does it, stands by while another does, does
    none, or has stopped doing it though it should. `warnings` name what is to be put right though
    the service works.
    """

    worker: str
    status: str = "ready"
    warnings: tuple[str, ...] = ()


class DatabaseVersion(Answer, frozen=True, kw_only=True):
    """`migration` is the revision of the schema."""

    kind: str
    migration: str | None


class ServiceVersion(Answer, frozen=True, kw_only=True):
    """`engine` is the version of the computing: with the catalogue's revision it fixes the result."""

    service: str
    engine: str
    contract: str
    database: DatabaseVersion
