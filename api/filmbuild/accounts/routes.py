"""The operations on keys, and the audit log."""

from filmbuild.accounts.service import CREATED, KeyService
from filmbuild.accounts.wire import (
    ApiKey,
    AuditPage,
    AuditQuery,
    KeyPage,
    KeyRequest,
    NewApiKey,
    RotationRequest,
)
from filmbuild.edge import paging
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation, PathParameter
from filmbuild.edge.paging import PageQuery
from filmbuild.idempotency import IDEMPOTENCY_KEY, request_key

PATH = "/v1/keys"
ONE = f"{PATH}/{{key_id}}"
AUDIT = "/v1/audit-log"
TAG = "keys"
_ID = (PathParameter("key_id", "the key's id", "key_[0-9a-z]{26}"),)
_UNCACHED = ("cache-control", "no-store")


def key_operations(service: KeyService) -> tuple[AnyOperation, ...]:
    return (
        _list_keys(service),
        _create_key(service),
        _get_key(service),
        _rotate_key(service),
        _revoke_key(service),
        _list_audit(service),
    )


def _list_keys(service: KeyService) -> AnyOperation:
    async def find(call: Call[None, PageQuery]) -> Answer:
        page = await service.find(call.caller.organisation, call.query, PATH)
        return Answer(encode(page, "us"), paging.link(call.query, PATH, page.next))

    return Operation(
        method="GET",
        path=PATH,
        id="listKeys",
        tag=TAG,
        summary="Keys, the oldest first",
        description="Those that have ended too. None tells the key itself.",
        handler=find,
        query=PageQuery,
        answer=KeyPage,
        answer_headers={"Link": paging.LINK},
    )


def _create_key(service: KeyService) -> AnyOperation:
    async def create(call: Call[KeyRequest, NoQuery]) -> Answer:
        key = request_key(call.headers, call.caller, f"POST {PATH}", call.content)
        return _made(await service.create(call.caller, call.body, key))

    return Operation(
        method="POST",
        path=PATH,
        id="createKey",
        tag=TAG,
        summary="Make a key",
        description="The answer tells the key, this once. A secret key belongs in a server's "
        "configuration and nowhere else; a publishable key may stand in a web page, is good for "
        "the pages of its origins, and sees no cost and no margin.",
        handler=create,
        query=NoQuery,
        body=KeyRequest,
        answer=NewApiKey,
        status=CREATED,
        headers=(IDEMPOTENCY_KEY,),
        answer_headers={"Location": "Where the key is described."},
        failures=("conflict",),
    )


def _get_key(service: KeyService) -> AnyOperation:
    async def get(call: Call[None, NoQuery]) -> Answer:
        found = await service.get(call.caller.organisation, call.path["key_id"])
        return Answer(encode(found, "us"))

    return Operation(
        method="GET",
        path=ONE,
        id="getKey",
        tag=TAG,
        summary="What a key may do, and whether it still does",
        description="Without the key itself.",
        handler=get,
        query=NoQuery,
        answer=ApiKey,
        path_parameters=_ID,
        failures=("missing",),
    )


def _rotate_key(service: KeyService) -> AnyOperation:
    async def rotate(call: Call[RotationRequest, NoQuery]) -> Answer:
        name = call.path["key_id"]
        path = f"POST {PATH}/{name}/rotation"
        key = request_key(call.headers, call.caller, path, call.content)
        return _made(await service.rotate(call.caller, name, call.body, key))

    return Operation(
        method="POST",
        path=f"{ONE}/rotation",
        id="rotateKey",
        tag=TAG,
        summary="Put a new key in the place of one",
        description="With the same name, scopes and origins. The old one goes on for the overlap, "
        "so that nothing stops while the new one is put where the old one was.",
        handler=rotate,
        query=NoQuery,
        body=RotationRequest,
        answer=NewApiKey,
        status=CREATED,
        headers=(IDEMPOTENCY_KEY,),
        path_parameters=_ID,
        answer_headers={"Location": "Where the new key is described."},
        failures=("missing", "conflict"),
    )


def _revoke_key(service: KeyService) -> AnyOperation:
    async def revoke(call: Call[None, NoQuery]) -> Answer:
        return Answer(encode(await service.revoke(call.caller, call.path["key_id"]), "us"))

    return Operation(
        method="POST",
        path=f"{ONE}/revocation",
        id="revokeKey",
        tag=TAG,
        summary="End a key at once",
        description="It is refused from the next request on, whichever process is asked.",
        handler=revoke,
        query=NoQuery,
        answer=ApiKey,
        path_parameters=_ID,
        failures=("missing",),
    )


def _list_audit(service: KeyService) -> AnyOperation:
    async def find(call: Call[None, AuditQuery]) -> Answer:
        page = await service.audit(call.caller.organisation, call.query, AUDIT)
        return Answer(encode(page, "us"), paging.link(call.query, AUDIT, page.next))

    return Operation(
        method="GET",
        path=AUDIT,
        id="listAuditEntries",
        tag=TAG,
        summary="Who did what with keys and prices, newest first",
        description="Entries are written with the change itself, and are never changed.",
        handler=find,
        query=AuditQuery,
        answer=AuditPage,
        answer_headers={"Link": paging.LINK},
    )


def _made(made: NewApiKey) -> Answer:
    headers = (("location", f"{PATH}/{made.key.id}"), _UNCACHED)
    return Answer(encode(made, "us"), headers)
