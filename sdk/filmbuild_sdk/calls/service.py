"""Calls of the service, described without sending them: service.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: D404 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, query
from filmbuild_sdk.values import Choice


def get_quote_form_demo(
    *, key: str | None = None, language: Choice[Literal["en", "es"]] | None = None
) -> Call[str]:
    """A page to try the quote form on."""
    return Call(
        "GET", "/quote-form/demo", str, query=query(key=key, language=language), accept="text/html"
    )


def get_quote_form_script() -> Call[str]:
    """The quote form as a web component."""
    return Call("GET", "/quote-form/v1.js", str, accept="text/javascript")


def get_documentation() -> Call[str]:
    """This contract, as a page to read."""
    return Call("GET", "/v1/docs", str, accept="text/html")


def get_documentation_style() -> Call[str]:
    """The style sheet of the page."""
    return Call("GET", "/v1/docs/style.css", str, accept="text/css")


def health() -> Call[models.Health]:
    """Whether the process is up."""
    return Call("GET", "/v1/health", models.Health)


def contract() -> Call[dict[str, Any]]:
    """This contract, as an OpenAPI 3.1 document."""
    return Call("GET", "/v1/openapi.json", dict[str, Any])


def readiness() -> Call[models.Readiness]:
    """Whether the service can do its work."""
    return Call("GET", "/v1/readiness", models.Readiness)


def get_version() -> Call[models.ServiceVersion]:
    """Which version of the service this is."""
    return Call("GET", "/v1/version", models.ServiceVersion)
