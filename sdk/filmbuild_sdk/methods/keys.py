"""The calls as methods of the clients: keys.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender


class KeysMethods(Sender):
    """The calls about keys."""

    def list_audit_entries(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        action: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.AuditPage, models.AuditEntry]:
        """Who did what with keys and prices, newest first.

        Entries are written with the change itself, and are never changed.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_audit_entries(limit=limit, cursor=cursor, action=action),
        )

    def list_keys(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.KeyPage, models.ApiKey]:
        """Keys, the oldest first.

        Those that have ended too. None tells the key itself.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_keys(limit=limit, cursor=cursor),
        )

    def create_key(
        self,
        request: models.KeyRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.NewApiKey:
        """Make a key.

        The answer tells the key, this once. A secret key belongs in a server's configuration and
        nowhere else; a publishable key may stand in a web page, is good for the pages of its
        origins, and sees no cost and no margin.
        """
        return self.send(
            calls.create_key(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def get_key(self, key_id: str, *, timeout: Timeout = UNCHANGED) -> models.ApiKey:
        """What a key may do, and whether it still does.

        Without the key itself.
        """
        return self.send(calls.get_key(key_id), timeout=timeout)

    def revoke_key(self, key_id: str, *, timeout: Timeout = UNCHANGED) -> models.ApiKey:
        """End a key at once.

        It is refused from the next request on, whichever process is asked.
        """
        return self.send(calls.revoke_key(key_id), timeout=timeout)

    def rotate_key(
        self,
        key_id: str,
        request: models.RotationRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.NewApiKey:
        """Put a new key in the place of one.

        With the same name, scopes and origins. The old one goes on for the overlap, so that nothing
        stops while the new one is put where the old one was.
        """
        return self.send(
            calls.rotate_key(key_id, request, idempotency_key=idempotency_key), timeout=timeout
        )


class AsyncKeysMethods(AsyncSender):
    """The calls about keys."""

    def list_audit_entries(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        action: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.AuditPage, models.AuditEntry]:
        """Who did what with keys and prices, newest first.

        Entries are written with the change itself, and are never changed.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_audit_entries(limit=limit, cursor=cursor, action=action),
        )

    def list_keys(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.KeyPage, models.ApiKey]:
        """Keys, the oldest first.

        Those that have ended too. None tells the key itself.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_keys(limit=limit, cursor=cursor),
        )

    async def create_key(
        self,
        request: models.KeyRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.NewApiKey:
        """Make a key.

        The answer tells the key, this once. A secret key belongs in a server's configuration and
        nowhere else; a publishable key may stand in a web page, is good for the pages of its
        origins, and sees no cost and no margin.
        """
        return await self.send(
            calls.create_key(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def get_key(self, key_id: str, *, timeout: Timeout = UNCHANGED) -> models.ApiKey:
        """What a key may do, and whether it still does.

        Without the key itself.
        """
        return await self.send(calls.get_key(key_id), timeout=timeout)

    async def revoke_key(self, key_id: str, *, timeout: Timeout = UNCHANGED) -> models.ApiKey:
        """End a key at once.

        It is refused from the next request on, whichever process is asked.
        """
        return await self.send(calls.revoke_key(key_id), timeout=timeout)

    async def rotate_key(
        self,
        key_id: str,
        request: models.RotationRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.NewApiKey:
        """Put a new key in the place of one.

        With the same name, scopes and origins. The old one goes on for the overlap, so that nothing
        stops while the new one is put where the old one was.
        """
        return await self.send(
            calls.rotate_key(key_id, request, idempotency_key=idempotency_key), timeout=timeout
        )
