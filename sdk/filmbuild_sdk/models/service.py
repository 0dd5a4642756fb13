"""What the service is sent and what it answers: service.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from filmbuild_sdk.values import Answer


class Health(Answer, frozen=True, kw_only=True):
    """The process is up; whether it can do its work is asked of /v1/readiness."""

    status: str = "up"


class Readiness(Answer, frozen=True, kw_only=True):
    """Everything that all requests depend on answers."""

    status: str = "ready"
