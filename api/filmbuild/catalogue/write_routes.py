"""The operations that change one record of the catalogue, made alike for every kind."""

from http import HTTPStatus
from typing import Annotated, Any

import msgspec
from msgspec import Meta

from filmbuild.catalogue import wishes
from filmbuild.catalogue.contract import Units
from filmbuild.catalogue.kinds import RESOURCES, TAG, ResourceKind, tag_of
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.catalogue.writing import CatalogueWriter, Order
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import Answer, AnyOperation, Call, Operation
from filmbuild.edge.preconditions import ETAG, IF_MATCH, MAKING
from filmbuild.errors import Conflict, InvalidInput
from filmbuild.idempotency import IDEMPOTENCY_KEY, KeptAnswer, request_key
from filmbuild.pipeline.site import Label

Note = Annotated[Label, Meta(description="Why it is changed, for the history.")]
MERGE_PATCH = "application/merge-patch+json"


class WriteQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    units: Units = "us"
    note: Note | None = None


class RetireQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    note: Note | None = None


def write_operations(
    writer: CatalogueWriter, snapshots: CatalogueSnapshots
) -> tuple[AnyOperation, ...]:
    made = (_Writing(kind, writer, snapshots).operations() for kind in RESOURCES)
    return tuple(one for operations in made for one in operations)


class _Writing:
    """The operations of one kind."""

    def __init__(
        self, kind: ResourceKind, writer: CatalogueWriter, snapshots: CatalogueSnapshots
    ) -> None:
        self._kind = kind
        self._writer = writer
        self._snapshots = snapshots

    def operations(self) -> tuple[AnyOperation, ...]:
        return self._create_operation(), *self._change_operations()

    async def create(self, call: Call[Any, WriteQuery]) -> Answer:
        kind, record, text = self._kind, call.body, wishes.text_of(call.content)
        outcome = await self._writer.apply(
            Order(
                caller=call.caller,
                note=self._note("Made", record.id, call.query.note),
                key=request_key(call.headers, call.caller, f"POST {kind.path}", call.content),
                keep=lambda made: KeptAnswer(
                    status=HTTPStatus.CREATED, resource=f"{made.revision}/{record.id}"
                ),
            ),
            lambda basis: wishes.create(basis, kind, record, text),
        )
        if outcome.kept is not None:
            revision = int(outcome.kept.resource.partition("/")[0])
        else:
            revision = outcome.revision or outcome.based_on
        location = ("location", f"{kind.path}/{record.id}")
        return await self._shown(call, record.id, revision, location)

    async def put(self, call: Call[Any, WriteQuery]) -> Answer:
        kind, record, text = self._kind, call.body, wishes.text_of(call.content)
        wishes.check_id(record.id, call.path[kind.parameter])
        outcome = await self._writer.apply(
            self._order(call, "Put", record.id),
            lambda basis: wishes.put(basis, kind, record, text, call.headers),
        )
        made = any(one.action == "created" for one in outcome.changes)
        answer = await self._shown(call, record.id, outcome.revision or outcome.based_on)
        status = HTTPStatus.CREATED if made else HTTPStatus.OK
        return Answer(answer.content, answer.headers, status)

    async def patch(self, call: Call[dict[str, Any], WriteQuery]) -> Answer:
        kind, name = self._kind, call.path[self._kind.parameter]
        outcome = await self._writer.apply(
            self._order(call, "Patched", name),
            lambda basis: wishes.patch(basis, kind, name, call.body, call.headers),
        )
        return await self._shown(call, name, outcome.revision or outcome.based_on)

    async def retire(self, call: Call[None, RetireQuery]) -> Answer:
        kind, name = self._kind, call.path[self._kind.parameter]
        try:
            await self._writer.apply(
                self._order(call, "Retired", name),
                lambda basis: wishes.retire(basis, kind, name, call.headers),
            )
        except InvalidInput as error:
            # nothing is wrong with the request: other records are in its way
            raise Conflict(
                "Other records need it; change or retire them first.", error.faults
            ) from error
        return Answer()

    def _order(self, call: Call[Any, Any], did: str, name: str) -> Order:
        return Order(caller=call.caller, note=self._note(did, name, call.query.note))

    def _note(self, did: str, name: str, given: str | None) -> str:
        return given or f"{did} {self._kind.words} {name}"

    async def _shown(
        self, call: Call[Any, WriteQuery], name: str, revision: int, *more: tuple[str, str]
    ) -> Answer:
        """As it is in the revision that was made, whatever has become of it since."""
        kind = self._kind
        snapshot = await self._snapshots.at(call.caller.organisation, revision)
        record = snapshot.records(kind.stored.name).by_id[name]
        query = kind.one_query(units=call.query.units)
        content = encode(kind.show(snapshot, record, query), call.query.units)
        return Answer(content, (("etag", tag_of(record, content)), *more))

    def _create_operation(self) -> AnyOperation:
        kind = self._kind
        return Operation(
            method="POST",
            path=kind.path,
            id=f"create{kind.name}",
            tag=TAG,
            summary=f"Add a {kind.words} to the catalogue",
            description=f"Checked against the whole catalogue, and kept as it is written. A "
            f"{kind.words} of this id that was retired is there again. Makes a revision.",
            handler=self.create,
            query=WriteQuery,
            body=kind.body,
            answer=kind.record,
            status=HTTPStatus.CREATED,
            failures=("conflict",),
            headers=(IDEMPOTENCY_KEY,),
            answer_headers={**ETAG, "Location": f"Where the {kind.words} is."},
        )

    def _change_operations(self) -> tuple[AnyOperation, ...]:
        kind = self._kind
        return (
            Operation(
                method="PUT",
                path=kind.one_path,
                id=f"put{kind.name}",
                tag=TAG,
                summary=f"Replace a {kind.words}, or make it under its id",
                description="With If-Match, the record of that ETag is replaced. With "
                "`If-None-Match: *` it is made, and none is written over. Checked against the "
                "whole catalogue. Makes a revision, unless nothing differs.",
                handler=self.put,
                query=WriteQuery,
                body=kind.body,
                answer=kind.record,
                other_statuses=(HTTPStatus.CREATED,),
                failures=("missing", "conflict", "precondition-failed", "precondition-required"),
                headers=(IF_MATCH, MAKING),
                path_parameters=kind.path_parameters,
                answer_headers=ETAG,
            ),
            Operation(
                method="PATCH",
                path=kind.one_path,
                id=f"patch{kind.name}",
                tag=TAG,
                summary=f"Change some members of a {kind.words}",
                description="A merge patch (RFC 7396) of the record as it was written: members that "
                "are null are taken out, objects are merged, lists are replaced whole. Pointers of "
                "faults are into the record as it would become. Makes a revision, unless nothing "
                "differs.",
                handler=self.patch,
                query=WriteQuery,
                body=dict[str, Any],
                body_media_types=("application/json", MERGE_PATCH),
                answer=kind.record,
                failures=("missing", "conflict", "precondition-failed", "precondition-required"),
                headers=(IF_MATCH,),
                path_parameters=kind.path_parameters,
                answer_headers=ETAG,
            ),
            Operation(
                method="DELETE",
                path=kind.one_path,
                id=f"retire{kind.name}",
                tag=TAG,
                summary=f"Retire a {kind.words}",
                description="It is no longer found or computed with, from a new revision on. Its "
                "history and all earlier revisions stay readable, and stored estimates keep what "
                "they were made from. Refused while other records need it.",
                handler=self.retire,
                query=RetireQuery,
                answer=None,
                status=HTTPStatus.NO_CONTENT,
                failures=("missing", "conflict", "precondition-failed", "precondition-required"),
                headers=(IF_MATCH,),
                path_parameters=kind.path_parameters,
            ),
        )
