"""The calls as methods of the clients: offers.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.sending import AsyncSender, Sender


class OffersMethods(Sender):
    """The calls about offers."""

    def get_offer(self, token: str, *, timeout: Timeout = UNCHANGED) -> models.OfferShown:
        """An offer as its customer sees it.

        The same for as long as the link is good, whatever became of the offer: `state` says it.
        """
        return self.send(calls.get_offer(token), timeout=timeout)

    def get_offer_linked_data(self, token: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The quotation as linked data.

        An Offer of schema.org, or an AggregateOffer over the alternates, with lines and taxes as
        the parts of a compound price; once it is accepted, of what was accepted alone.
        """
        return self.send(calls.get_offer_linked_data(token), timeout=timeout)

    def get_offer_print(self, token: str, *, timeout: Timeout = UNCHANGED) -> bytes:
        """The quotation for print.

        A tagged PDF with the fonts in it. The same quotation in the same state is always the same
        bytes.
        """
        return self.send(calls.get_offer_print(token), timeout=timeout)

    def get_offer_xml(self, token: str, *, timeout: Timeout = UNCHANGED) -> str:
        """UBL 2.1.

        A Quotation of the Universal Business Language 2.1 (OASIS), for the customer's own software:
        the accepted alternate with its options, or the first where nothing is decided; the others
        stand in notes. Units are codes of UNECE Recommendation 20, tax categories those of UNTDID
        5305. A draft has none.
        """
        return self.send(calls.get_offer_xml(token), timeout=timeout)

    def get_offer_table(self, token: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The lines as a table.

        RFC 4180: by alternate its lines, net, taxes and total, and what may be added; once it is
        accepted, of what was accepted alone. Text that a spreadsheet would take for a formula has
        an apostrophe before it.
        """
        return self.send(calls.get_offer_table(token), timeout=timeout)

    def get_offer_page(self, token: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The quotation as a page.

        In its own language, for screens of any size and for print, with its own style sheet and no
        scripts. It says what has become of the quotation.
        """
        return self.send(calls.get_offer_page(token), timeout=timeout)

    def accept_offer(
        self, token: str, request: models.Acceptance, *, timeout: Timeout = UNCHANGED
    ) -> models.OfferShown:
        """Accept an offer.

        One alternate, with the options that are ticked, at the total that was shown. The same
        acceptance once more is answered as the first; after another decision, or where the offer is
        no longer open or the total is another, it is a conflict, and `errors` has a code for each
        of these. A form is answered with the way back to the offer.
        """
        return self.send(calls.accept_offer(token, request), timeout=timeout)

    def accept_offer_page(
        self, token: str, request: models.Acceptance, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """The way back to the offer.

        For browsers: the offer's page says what became of it, also where the decision came too
        late. A form of acceptance without the total that was shown is answered with a page that
        shows it.
        """
        return self.send(calls.accept_offer_page(token, request), timeout=timeout)

    def decline_offer(
        self, token: str, request: models.Refusal, *, timeout: Timeout = UNCHANGED
    ) -> models.OfferShown:
        """Decline an offer.

        The same refusal once more is answered as the first. A form is answered with the way back to
        the offer.
        """
        return self.send(calls.decline_offer(token, request), timeout=timeout)

    def decline_offer_page(
        self, token: str, request: models.Refusal, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """The way back to the offer.

        For browsers: the offer's page says what became of it, also where the decision came too
        late. A form of acceptance without the total that was shown is answered with a page that
        shows it.
        """
        return self.send(calls.decline_offer_page(token, request), timeout=timeout)


class AsyncOffersMethods(AsyncSender):
    """The calls about offers."""

    async def get_offer(self, token: str, *, timeout: Timeout = UNCHANGED) -> models.OfferShown:
        """An offer as its customer sees it.

        The same for as long as the link is good, whatever became of the offer: `state` says it.
        """
        return await self.send(calls.get_offer(token), timeout=timeout)

    async def get_offer_linked_data(self, token: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The quotation as linked data.

        An Offer of schema.org, or an AggregateOffer over the alternates, with lines and taxes as
        the parts of a compound price; once it is accepted, of what was accepted alone.
        """
        return await self.send(calls.get_offer_linked_data(token), timeout=timeout)

    async def get_offer_print(self, token: str, *, timeout: Timeout = UNCHANGED) -> bytes:
        """The quotation for print.

        A tagged PDF with the fonts in it. The same quotation in the same state is always the same
        bytes.
        """
        return await self.send(calls.get_offer_print(token), timeout=timeout)

    async def get_offer_xml(self, token: str, *, timeout: Timeout = UNCHANGED) -> str:
        """UBL 2.1.

        A Quotation of the Universal Business Language 2.1 (OASIS), for the customer's own software:
        the accepted alternate with its options, or the first where nothing is decided; the others
        stand in notes. Units are codes of UNECE Recommendation 20, tax categories those of UNTDID
        5305. A draft has none.
        """
        return await self.send(calls.get_offer_xml(token), timeout=timeout)

    async def get_offer_table(self, token: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The lines as a table.

        RFC 4180: by alternate its lines, net, taxes and total, and what may be added; once it is
        accepted, of what was accepted alone. Text that a spreadsheet would take for a formula has
        an apostrophe before it.
        """
        return await self.send(calls.get_offer_table(token), timeout=timeout)

    async def get_offer_page(self, token: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The quotation as a page.

        In its own language, for screens of any size and for print, with its own style sheet and no
        scripts. It says what has become of the quotation.
        """
        return await self.send(calls.get_offer_page(token), timeout=timeout)

    async def accept_offer(
        self, token: str, request: models.Acceptance, *, timeout: Timeout = UNCHANGED
    ) -> models.OfferShown:
        """Accept an offer.

        One alternate, with the options that are ticked, at the total that was shown. The same
        acceptance once more is answered as the first; after another decision, or where the offer is
        no longer open or the total is another, it is a conflict, and `errors` has a code for each
        of these. A form is answered with the way back to the offer.
        """
        return await self.send(calls.accept_offer(token, request), timeout=timeout)

    async def accept_offer_page(
        self, token: str, request: models.Acceptance, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """The way back to the offer.

        For browsers: the offer's page says what became of it, also where the decision came too
        late. A form of acceptance without the total that was shown is answered with a page that
        shows it.
        """
        return await self.send(calls.accept_offer_page(token, request), timeout=timeout)

    async def decline_offer(
        self, token: str, request: models.Refusal, *, timeout: Timeout = UNCHANGED
    ) -> models.OfferShown:
        """Decline an offer.

        The same refusal once more is answered as the first. A form is answered with the way back to
        the offer.
        """
        return await self.send(calls.decline_offer(token, request), timeout=timeout)

    async def decline_offer_page(
        self, token: str, request: models.Refusal, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """The way back to the offer.

        For browsers: the offer's page says what became of it, also where the decision came too
        late. A form of acceptance without the total that was shown is answered with a page that
        shows it.
        """
        return await self.send(calls.decline_offer_page(token, request), timeout=timeout)
