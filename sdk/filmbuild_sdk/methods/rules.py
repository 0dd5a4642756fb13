"""The calls as methods of the clients: rules.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender


class RulesMethods(Sender):
    """The calls about rules."""

    def list_rules(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.RulePage, models.Rule]:
        """The estimating rules, a page at a time.

        Every figure of an estimate carries a trace that names one of these.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rules(limit=limit, cursor=cursor),
        )

    def get_rule(self, rule_id: str, *, timeout: Timeout = UNCHANGED) -> models.Rule:
        """One estimating rule.

        Its statement, its equation where it has one, and its source.
        """
        return self.send(calls.get_rule(rule_id), timeout=timeout)


class AsyncRulesMethods(AsyncSender):
    """The calls about rules."""

    def list_rules(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.RulePage, models.Rule]:
        """The estimating rules, a page at a time.

        Every figure of an estimate carries a trace that names one of these.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rules(limit=limit, cursor=cursor),
        )

    async def get_rule(self, rule_id: str, *, timeout: Timeout = UNCHANGED) -> models.Rule:
        """One estimating rule.

        Its statement, its equation where it has one, and its source.
        """
        return await self.send(calls.get_rule(rule_id), timeout=timeout)
