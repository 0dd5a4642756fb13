"""The calls as methods of the clients: service.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109, D404 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.values import Choice


class ServiceMethods(Sender):
    """The calls about service."""

    def get_quote_form_demo(
        self,
        *,
        key: str | None = None,
        language: Choice[Literal["en", "es"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """A page to try the quote form on.

        Shows the form of the key that it is given; what is sent there is a real enquiry.
        """
        return self.send(calls.get_quote_form_demo(key=key, language=language), timeout=timeout)

    def get_quote_form_script(self, *, timeout: Timeout = UNCHANGED) -> str:
        """The quote form as a web component.

        A JavaScript module that defines the element filmbuild-quote-form. Pages of any origin may
        load it; the key in the element says whose form it is.
        """
        return self.send(calls.get_quote_form_script(), timeout=timeout)

    def get_documentation(self, *, timeout: Timeout = UNCHANGED) -> str:
        """This contract, as a page to read.

        Needs no script, and asks no other host for anything.
        """
        return self.send(calls.get_documentation(), timeout=timeout)

    def get_documentation_style(self, *, timeout: Timeout = UNCHANGED) -> str:
        """The style sheet of the page.

        Used by the documentation page.
        """
        return self.send(calls.get_documentation_style(), timeout=timeout)

    def health(self, *, timeout: Timeout = UNCHANGED) -> models.Health:
        """Whether the process is up.

        Reads nothing and asks nothing of anyone else. A process that does not answer is to be begun
        again; one that answers late is busy.
        """
        return self.send(calls.health(), timeout=timeout)

    def contract(self, *, timeout: Timeout = UNCHANGED) -> dict[str, Any]:
        """This contract, as an OpenAPI 3.1 document.

        What every operation takes and answers, for machines.
        """
        return self.send(calls.contract(), timeout=timeout)

    def readiness(self, *, timeout: Timeout = UNCHANGED) -> models.Readiness:
        """Whether the service can do its work.

        The database answers in time and is at the newest migration, and the service is not about to
        stop. Otherwise a problem says what is missing.
        """
        return self.send(calls.readiness(), timeout=timeout)

    def get_version(self, *, timeout: Timeout = UNCHANGED) -> models.ServiceVersion:
        """Which version of the service this is.

        Of the service, of its computing, of this contract and of the database's schema.
        """
        return self.send(calls.get_version(), timeout=timeout)


class AsyncServiceMethods(AsyncSender):
    """The calls about service."""

    async def get_quote_form_demo(
        self,
        *,
        key: str | None = None,
        language: Choice[Literal["en", "es"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """A page to try the quote form on.

        Shows the form of the key that it is given; what is sent there is a real enquiry.
        """
        return await self.send(
            calls.get_quote_form_demo(key=key, language=language), timeout=timeout
        )

    async def get_quote_form_script(self, *, timeout: Timeout = UNCHANGED) -> str:
        """The quote form as a web component.

        A JavaScript module that defines the element filmbuild-quote-form. Pages of any origin may
        load it; the key in the element says whose form it is.
        """
        return await self.send(calls.get_quote_form_script(), timeout=timeout)

    async def get_documentation(self, *, timeout: Timeout = UNCHANGED) -> str:
        """This contract, as a page to read.

        Needs no script, and asks no other host for anything.
        """
        return await self.send(calls.get_documentation(), timeout=timeout)

    async def get_documentation_style(self, *, timeout: Timeout = UNCHANGED) -> str:
        """The style sheet of the page.

        Used by the documentation page.
        """
        return await self.send(calls.get_documentation_style(), timeout=timeout)

    async def health(self, *, timeout: Timeout = UNCHANGED) -> models.Health:
        """Whether the process is up.

        Reads nothing and asks nothing of anyone else. A process that does not answer is to be begun
        again; one that answers late is busy.
        """
        return await self.send(calls.health(), timeout=timeout)

    async def contract(self, *, timeout: Timeout = UNCHANGED) -> dict[str, Any]:
        """This contract, as an OpenAPI 3.1 document.

        What every operation takes and answers, for machines.
        """
        return await self.send(calls.contract(), timeout=timeout)

    async def readiness(self, *, timeout: Timeout = UNCHANGED) -> models.Readiness:
        """Whether the service can do its work.

        The database answers in time and is at the newest migration, and the service is not about to
        stop. Otherwise a problem says what is missing.
        """
        return await self.send(calls.readiness(), timeout=timeout)

    async def get_version(self, *, timeout: Timeout = UNCHANGED) -> models.ServiceVersion:
        """Which version of the service this is.

        Of the service, of its computing, of this contract and of the database's schema.
        """
        return await self.send(calls.get_version(), timeout=timeout)
