"""Entity tags and the conditions that requests put on them (RFC 9110 section 13, RFC 6585)."""

from collections.abc import Mapping
from hashlib import sha256

from filmbuild.edge.operations import Header
from filmbuild.errors import PreconditionFailed, PreconditionRequired

IF_MATCH = Header(
    name="If-Match",
    description="the ETag that the record was last read with; needed, so that no change of "
    "someone else is written over",
    pattern=r'(\*|"[!#-~]{1,128}"(\s*,\s*"[!#-~]{1,128}")*)',
    example='"1-5f0c1a52"',
)
IF_NONE_MATCH = Header(
    name="If-None-Match",
    description="ETags that are known already: where one is still good, the answer is 304 without "
    "content",
    pattern=r'(\*|(W/)?"[!#-~]{1,128}"(\s*,\s*(W/)?"[!#-~]{1,128}")*)',
    example='"1-5f0c1a52"',
)
MAKING = Header(
    name="If-None-Match",
    description="an asterisk: the record is made, and never one that is there written over",
    pattern=r"\*",
    example="*",
)
ETAG = {"ETag": "The version of the record, for If-Match."}


def tag_of(content: bytes) -> str:
    """A strong tag: equal for equal bytes alone."""
    return f'"{sha256(content).hexdigest()[:32]}"'


def check_match(headers: Mapping[str, str], current: str) -> None:
    """Raises PreconditionRequired without If-Match, PreconditionFailed where it names another tag.

    Weak tags match nothing, as the comparison is the strong one.
    """
    given = headers.get("if-match")
    if given is None:
        raise PreconditionRequired("Send If-Match with the ETag that the record was read with.")
    if given.strip() != "*" and current not in (one.strip() for one in given.split(",")):
        raise PreconditionFailed("The record has changed since it was read; read it again.")


def unchanged(headers: Mapping[str, str], current: str) -> bool:
    """Whether If-None-Match names the current tag, so that 304 says all there is to say."""
    given = headers.get("if-none-match", "")
    tags = (one.strip().removeprefix("W/") for one in given.split(","))
    return given.strip() == "*" or current in tags
