"""Calls of the service, described without sending them: service.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: D404 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from typing import Any

from filmbuild_sdk import models
from filmbuild_sdk.call import Call


def health() -> Call[models.Health]:
    """Whether the process is up."""
    return Call("GET", "/v1/health", models.Health)


def contract() -> Call[dict[str, Any]]:
    """This contract, as an OpenAPI 3.1 document."""
    return Call("GET", "/v1/openapi.json", dict[str, Any])


def readiness() -> Call[models.Readiness]:
    """Whether the service can do its work."""
    return Call("GET", "/v1/readiness", models.Readiness)
