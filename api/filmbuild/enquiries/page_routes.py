"""The form's script for any web page, and a page to try it on."""

from base64 import b64encode
from functools import cache
from hashlib import sha256
from html import escape
from importlib.resources import files
from typing import Annotated

import msgspec
from msgspec import Meta

from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation
from filmbuild.edge.preconditions import IF_NONE_MATCH, tag_of, unchanged
from filmbuild.enquiries.form import Language

SCRIPT_PATH = "/quote-form/v1.js"
DEMO_PATH = "/quote-form/demo"
NOT_MODIFIED = 304
_FOLDER = files("filmbuild") / "enquiries" / "web"
_CACHED = "public, max-age=300"
_ANYWHERE = (
    ("access-control-allow-origin", "*"),
    ("cross-origin-resource-policy", "cross-origin"),
    ("cache-control", _CACHED),
)


class DemoQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    key: (
        Annotated[
            str,
            Meta(
                pattern=r"^(filmbuild-public_[A-Za-z0-9_-]{20,100})?$",
                description="A publishable key that pages of this service's own address may use.",
            ),
        ]
        | None
    ) = None
    language: Annotated[Language, Meta(description="In which language to show the form.")] = "en"


def page_operations() -> tuple[AnyOperation, ...]:
    async def script(call: Call[None, NoQuery]) -> Answer:
        content = _read("v1.js")
        headers = (*_ANYWHERE, ("etag", tag_of(content)))
        if unchanged(call.headers, tag_of(content)):
            return Answer(b"", headers, NOT_MODIFIED)
        return Answer(content, headers)

    async def demo(call: Call[None, DemoQuery]) -> Answer:
        content = _demo(call.query.key or "", call.query.language)
        return Answer(content, (("content-security-policy", _policy()),))

    return (
        Operation(
            method="GET",
            path=SCRIPT_PATH,
            id="getQuoteFormScript",
            tag="service",
            public=True,
            summary="The quote form as a web component",
            description="A JavaScript module that defines the element filmbuild-quote-form. Pages "
            "of any origin may load it; the key in the element says whose form it is.",
            handler=script,
            query=NoQuery,
            answer=str,
            media_type="text/javascript",
            other_statuses=(NOT_MODIFIED,),
            headers=(IF_NONE_MATCH,),
            answer_headers={"ETag": "The version of the script."},
        ),
        Operation(
            method="GET",
            path=DEMO_PATH,
            id="getQuoteFormDemo",
            tag="service",
            public=True,
            summary="A page to try the quote form on",
            description="Shows the form of the key that it is given; what is sent there is a real "
            "enquiry.",
            handler=demo,
            query=DemoQuery,
            answer=str,
            media_type="text/html",
        ),
    )


@cache
def _read(name: str) -> bytes:
    return (_FOLDER / name).read_bytes()


@cache
def _policy() -> str:
    """Nothing but what this service itself sends; the style is named by its digest."""
    style = b64encode(sha256(_read("demo.css")).digest()).decode()
    return (
        f"default-src 'none'; script-src 'self'; style-src 'sha256-{style}'; connect-src 'self'; "
        "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    )


def _demo(key: str, language: str) -> bytes:
    page = _read("demo.html").decode()
    form = (
        f'<filmbuild-quote-form key="{escape(key)}" lang="{language}"></filmbuild-quote-form>'
        if key
        else ""
    )
    chosen = {f"{{{one}}}": " selected" if one == language else "" for one in ("en", "es")}
    values = {"{style}": _read("demo.css").decode(), "{key}": escape(key), "{form}": form, **chosen}
    for name, value in values.items():
        page = page.replace(name, value)
    return page.encode()
