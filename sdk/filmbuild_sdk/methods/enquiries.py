"""The calls as methods of the clients: enquiries.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from typing import Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.values import Choice


class EnquiriesMethods(Sender):
    """The calls about enquiries."""

    def list_enquiries(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        state: Choice[Literal["answered", "closed", "new"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.EnquiryPage, models.Enquiry]:
        """Enquiries, newest first.

        All of them, or those in one state.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_enquiries(limit=limit, cursor=cursor, state=state),
        )

    def create_enquiry(
        self,
        request: models.EnquiryRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.EnquiryReceipt:
        """Send an enquiry.

        Keeps who asks and what for, with an estimate of it. A floor that cannot be priced is an
        enquiry all the same, without a price. What is wrong is told in the `language` of the body,
        or of Accept-Language.
        """
        return self.send(
            calls.create_enquiry(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def erase_enquiry(self, enquiry_id: str, *, timeout: Timeout = UNCHANGED) -> None:
        """Erase who asked.

        Name, addresses, telephone number and message are gone for good. What was asked and its
        estimate stay, and tell nothing of the person.
        """
        return self.send(calls.erase_enquiry(enquiry_id), timeout=timeout)

    def get_enquiry(self, enquiry_id: str, *, timeout: Timeout = UNCHANGED) -> models.Enquiry:
        """One enquiry.

        What was asked and by whom, the price that was told, and the estimate.
        """
        return self.send(calls.get_enquiry(enquiry_id), timeout=timeout)

    def change_enquiry(
        self,
        enquiry_id: str,
        request: models.EnquiryChange,
        *,
        if_match: str,
        timeout: Timeout = UNCHANGED,
    ) -> models.Enquiry:
        """Say how far an enquiry has come.

        It is new until it is answered or closed.
        """
        return self.send(
            calls.change_enquiry(enquiry_id, request, if_match=if_match), timeout=timeout
        )

    def get_quote_form(
        self, *, language: Choice[Literal["en", "es"]] | None = None, timeout: Timeout = UNCHANGED
    ) -> models.QuoteForm:
        """What a page needs to show the quote form.

        Finishes, units, limits and words in one language: the one asked for, or the form's first.
        """
        return self.send(calls.get_quote_form(language=language), timeout=timeout)

    def put_quote_form(
        self, request: models.QuoteFormSettings, *, if_match: str, timeout: Timeout = UNCHANGED
    ) -> models.KeptQuoteForm:
        """Set up the quote form.

        All of it in place of what there was. A plain room is priced in each finish first: what
        stands against that is told, and nothing is changed. Makes the record where there is none;
        after that If-Match is needed, with the ETag of /v1/quote-form/settings.
        """
        return self.send(calls.put_quote_form(request, if_match=if_match), timeout=timeout)

    def get_quote_form_challenge(self, *, timeout: Timeout = UNCHANGED) -> models.Challenge:
        """A challenge, to be solved before an enquiry is sent.

        By the altcha protocol, version 2, with the counter as four bytes. It is good for 20
        minutes, and its solution for one enquiry.
        """
        return self.send(calls.get_quote_form_challenge(), timeout=timeout)

    def price_quote_form(
        self, request: models.FloorQuestion, *, timeout: Timeout = UNCHANGED
    ) -> models.QuotedRange:
        """What a floor comes to, as a range.

        Computed by the whole pipeline under the form's terms, on today's prices. Nothing is kept.
        What is wrong is told in the `language` of the body, or of Accept-Language.
        """
        return self.send(calls.price_quote_form(request), timeout=timeout)

    def get_quote_form_settings(self, *, timeout: Timeout = UNCHANGED) -> models.KeptQuoteForm:
        """How the quote form is set up.

        Which systems are offered under which names, and the terms that price them. Pages read the
        form itself at /v1/quote-form.
        """
        return self.send(calls.get_quote_form_settings(), timeout=timeout)


class AsyncEnquiriesMethods(AsyncSender):
    """The calls about enquiries."""

    def list_enquiries(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        state: Choice[Literal["answered", "closed", "new"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.EnquiryPage, models.Enquiry]:
        """Enquiries, newest first.

        All of them, or those in one state.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_enquiries(limit=limit, cursor=cursor, state=state),
        )

    async def create_enquiry(
        self,
        request: models.EnquiryRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.EnquiryReceipt:
        """Send an enquiry.

        Keeps who asks and what for, with an estimate of it. A floor that cannot be priced is an
        enquiry all the same, without a price. What is wrong is told in the `language` of the body,
        or of Accept-Language.
        """
        return await self.send(
            calls.create_enquiry(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def erase_enquiry(self, enquiry_id: str, *, timeout: Timeout = UNCHANGED) -> None:
        """Erase who asked.

        Name, addresses, telephone number and message are gone for good. What was asked and its
        estimate stay, and tell nothing of the person.
        """
        return await self.send(calls.erase_enquiry(enquiry_id), timeout=timeout)

    async def get_enquiry(self, enquiry_id: str, *, timeout: Timeout = UNCHANGED) -> models.Enquiry:
        """One enquiry.

        What was asked and by whom, the price that was told, and the estimate.
        """
        return await self.send(calls.get_enquiry(enquiry_id), timeout=timeout)

    async def change_enquiry(
        self,
        enquiry_id: str,
        request: models.EnquiryChange,
        *,
        if_match: str,
        timeout: Timeout = UNCHANGED,
    ) -> models.Enquiry:
        """Say how far an enquiry has come.

        It is new until it is answered or closed.
        """
        return await self.send(
            calls.change_enquiry(enquiry_id, request, if_match=if_match), timeout=timeout
        )

    async def get_quote_form(
        self, *, language: Choice[Literal["en", "es"]] | None = None, timeout: Timeout = UNCHANGED
    ) -> models.QuoteForm:
        """What a page needs to show the quote form.

        Finishes, units, limits and words in one language: the one asked for, or the form's first.
        """
        return await self.send(calls.get_quote_form(language=language), timeout=timeout)

    async def put_quote_form(
        self, request: models.QuoteFormSettings, *, if_match: str, timeout: Timeout = UNCHANGED
    ) -> models.KeptQuoteForm:
        """Set up the quote form.

        All of it in place of what there was. A plain room is priced in each finish first: what
        stands against that is told, and nothing is changed. Makes the record where there is none;
        after that If-Match is needed, with the ETag of /v1/quote-form/settings.
        """
        return await self.send(calls.put_quote_form(request, if_match=if_match), timeout=timeout)

    async def get_quote_form_challenge(self, *, timeout: Timeout = UNCHANGED) -> models.Challenge:
        """A challenge, to be solved before an enquiry is sent.

        By the altcha protocol, version 2, with the counter as four bytes. It is good for 20
        minutes, and its solution for one enquiry.
        """
        return await self.send(calls.get_quote_form_challenge(), timeout=timeout)

    async def price_quote_form(
        self, request: models.FloorQuestion, *, timeout: Timeout = UNCHANGED
    ) -> models.QuotedRange:
        """What a floor comes to, as a range.

        Computed by the whole pipeline under the form's terms, on today's prices. Nothing is kept.
        What is wrong is told in the `language` of the body, or of Accept-Language.
        """
        return await self.send(calls.price_quote_form(request), timeout=timeout)

    async def get_quote_form_settings(
        self, *, timeout: Timeout = UNCHANGED
    ) -> models.KeptQuoteForm:
        """How the quote form is set up.

        Which systems are offered under which names, and the terms that price them. Pages read the
        form itself at /v1/quote-form.
        """
        return await self.send(calls.get_quote_form_settings(), timeout=timeout)
