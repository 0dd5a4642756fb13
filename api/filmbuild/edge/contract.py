"""The operations that describe the service itself: its contract and its page."""

from collections.abc import Callable
from functools import cache
from typing import Any

from filmbuild.edge import reference
from filmbuild.edge.openapi import Json, text_of
from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation

TAG = "service"


def contract_operations(document: Callable[[], Json]) -> tuple[AnyOperation, ...]:
    """`document` is called once, when it is first asked for."""
    built = cache(document)

    @cache
    def contract() -> bytes:
        return text_of(built())

    @cache
    def page() -> bytes:
        return reference.page(built()).encode()

    async def get_contract(_call: Call[None, NoQuery]) -> Answer:
        return Answer(contract())

    async def get_page(_call: Call[None, NoQuery]) -> Answer:
        return Answer(page(), (("content-security-policy", reference.POLICY),))

    async def get_style(_call: Call[None, NoQuery]) -> Answer:
        return Answer(reference.STYLE.encode())

    return (
        Operation(
            method="GET",
            path="/v1/openapi.json",
            id="getContract",
            tag=TAG,
            public=True,
            summary="This contract, as an OpenAPI 3.1 document",
            description="What every operation takes and answers, for machines.",
            handler=get_contract,
            query=NoQuery,
            answer=dict[str, Any],
        ),
        Operation(
            method="GET",
            path="/v1/docs",
            id="getDocumentation",
            tag=TAG,
            public=True,
            summary="This contract, as a page to read",
            description="Needs no script, and asks no other host for anything.",
            handler=get_page,
            query=NoQuery,
            answer=str,
            media_type="text/html",
        ),
        Operation(
            method="GET",
            path=reference.STYLE_PATH,
            id="getDocumentationStyle",
            tag=TAG,
            public=True,
            summary="The style sheet of the page",
            description="Used by the documentation page.",
            handler=get_style,
            query=NoQuery,
            answer=str,
            media_type="text/css",
        ),
    )
