"""The operations on endpoints and deliveries."""

from http import HTTPStatus

from filmbuild.edge import paging
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation, PathParameter
from filmbuild.edge.paging import PageQuery
from filmbuild.edge.preconditions import ETAG, IF_MATCH
from filmbuild.idempotency import IDEMPOTENCY_KEY, request_key
from filmbuild.webhooks.deliveries import DeliveryService
from filmbuild.webhooks.service import EndpointService, answer, new_answer, tag
from filmbuild.webhooks.store import StoredEndpoint
from filmbuild.webhooks.wire import (
    NewWebhookEndpoint,
    WebhookDelivery,
    WebhookDeliveryPage,
    WebhookDeliveryQuery,
    WebhookDeliveryRecord,
    WebhookEndpoint,
    WebhookEndpointChange,
    WebhookEndpointPage,
    WebhookEndpointRequest,
    WebhookRotationRequest,
)

TAG = "webhooks"
ENDPOINTS = "/v1/webhook-endpoints"
ENDPOINT = f"{ENDPOINTS}/{{endpoint_id}}"
DELIVERIES = "/v1/webhook-deliveries"
DELIVERY = f"{DELIVERIES}/{{delivery_id}}"
MERGE_PATCH = "application/merge-patch+json"
_ENDPOINT_ID = (PathParameter("endpoint_id", "The endpoint's `id`.", "^whe_[0-9a-z]{26}$"),)
_DELIVERY_ID = (PathParameter("delivery_id", "The delivery's `id`.", "^whd_[0-9a-z]{26}$"),)
_UNCACHED = ("cache-control", "no-store")


def webhook_operations(
    endpoints: EndpointService, deliveries: DeliveryService
) -> tuple[AnyOperation, ...]:
    return (
        _create(endpoints),
        _list(endpoints),
        _get(endpoints),
        _change(endpoints),
        _delete(endpoints),
        _rotate(endpoints),
        _test(deliveries),
        _list_deliveries(deliveries),
        _get_delivery(deliveries),
        _send_again(deliveries),
    )


def _answer(found: StoredEndpoint) -> Answer:
    return Answer(encode(answer(found), "us"), (("etag", tag(found)),))


def _told(made: tuple[StoredEndpoint, str | None]) -> Answer:
    """With the secret, which nothing on the way is to keep."""
    found, secret = made
    headers = (("location", f"{ENDPOINTS}/{found.id}"), ("etag", tag(found)), _UNCACHED)
    return Answer(encode(new_answer(found, secret), "us"), headers)


def _create(service: EndpointService) -> AnyOperation:
    async def create(call: Call[WebhookEndpointRequest, NoQuery]) -> Answer:
        key = request_key(call.headers, call.caller, f"POST {ENDPOINTS}", call.content)
        return _told(await service.create(call.caller, call.body, key))

    return Operation(
        method="POST",
        path=ENDPOINTS,
        id="createWebhookEndpoint",
        tag=TAG,
        summary="Have messages sent to a URL",
        description="From now on, when something of the chosen types happens. Each message is "
        "signed by the Standard Webhooks specification 1.0 with the secret that the answer tells, "
        "this once. It is sent until it is answered with 2xx, or given up after three days: after "
        "5 s, 5 min, 30 min, 2, 5, 10, 14, 20 and 24 h. It may come more than once, each time with "
        "the same webhook-id. Messages about one record come in the order in which they happened: "
        "a later one waits for the earlier. 410 disables the endpoint, and so do three days "
        "without success. Redirects are not followed.",
        handler=create,
        query=NoQuery,
        body=WebhookEndpointRequest,
        answer=NewWebhookEndpoint,
        status=HTTPStatus.CREATED,
        headers=(IDEMPOTENCY_KEY,),
        answer_headers={**ETAG, "Location": "Where the endpoint is."},
        failures=("missing", "conflict"),
    )


def _list(service: EndpointService) -> AnyOperation:
    async def find(call: Call[None, PageQuery]) -> Answer:
        page = await service.find(call.caller.organisation, call.query, ENDPOINTS)
        return Answer(encode(page, "us"), paging.link(call.query, ENDPOINTS, page.next))

    return Operation(
        method="GET",
        path=ENDPOINTS,
        id="listWebhookEndpoints",
        tag=TAG,
        summary="Webhook endpoints, the oldest first",
        description="Those that are disabled too. None tells its secret.",
        handler=find,
        query=PageQuery,
        answer=WebhookEndpointPage,
        answer_headers={"Link": paging.LINK},
    )


def _get(service: EndpointService) -> AnyOperation:
    async def get(call: Call[None, NoQuery]) -> Answer:
        return _answer(await service.get(call.caller.organisation, call.path["endpoint_id"]))

    return Operation(
        method="GET",
        path=ENDPOINT,
        id="getWebhookEndpoint",
        tag=TAG,
        summary="Where messages go, and whether they arrive",
        description="Without the secret.",
        handler=get,
        query=NoQuery,
        answer=WebhookEndpoint,
        path_parameters=_ENDPOINT_ID,
        answer_headers=ETAG,
        failures=("missing",),
    )


def _change(service: EndpointService) -> AnyOperation:
    async def change(call: Call[WebhookEndpointChange, NoQuery]) -> Answer:
        name = call.path["endpoint_id"]
        return _answer(await service.change(call.caller, name, call.body, call.headers))

    return Operation(
        method="PATCH",
        path=ENDPOINT,
        id="patchWebhookEndpoint",
        tag=TAG,
        summary="Change some members of a webhook endpoint",
        description="A merge patch (RFC 7396). Disabling it cancels what waits to be sent, and "
        "what happens until it is enabled again is not sent later.",
        handler=change,
        query=NoQuery,
        body=WebhookEndpointChange,
        body_media_types=("application/json", MERGE_PATCH),
        answer=WebhookEndpoint,
        headers=(IF_MATCH,),
        path_parameters=_ENDPOINT_ID,
        answer_headers=ETAG,
        failures=("missing", "precondition-failed", "precondition-required"),
    )


def _delete(service: EndpointService) -> AnyOperation:
    async def delete(call: Call[None, NoQuery]) -> Answer:
        await service.delete(call.caller, call.path["endpoint_id"], call.headers)
        return Answer()

    return Operation(
        method="DELETE",
        path=ENDPOINT,
        id="deleteWebhookEndpoint",
        tag=TAG,
        summary="Send nothing more to a webhook endpoint",
        description="What waits is cancelled. The log of its deliveries stays for its 30 days.",
        handler=delete,
        query=NoQuery,
        answer=None,
        status=HTTPStatus.NO_CONTENT,
        headers=(IF_MATCH,),
        path_parameters=_ENDPOINT_ID,
        failures=("missing", "precondition-failed", "precondition-required"),
    )


def _rotate(service: EndpointService) -> AnyOperation:
    async def rotate(call: Call[WebhookRotationRequest, NoQuery]) -> Answer:
        name = call.path["endpoint_id"]
        path = f"POST {ENDPOINTS}/{name}/rotation"
        key = request_key(call.headers, call.caller, path, call.content)
        return _told(await service.rotate(call.caller, name, call.body, key))

    return Operation(
        method="POST",
        path=f"{ENDPOINT}/rotation",
        id="rotateWebhookSecret",
        tag=TAG,
        summary="Put a new secret in the place of one",
        description="The answer tells it, this once. For the overlap messages carry two "
        "signatures, one by each secret, so that none is refused while the receiver changes over.",
        handler=rotate,
        query=NoQuery,
        body=WebhookRotationRequest,
        answer=NewWebhookEndpoint,
        headers=(IDEMPOTENCY_KEY,),
        path_parameters=_ENDPOINT_ID,
        answer_headers={**ETAG, "Location": "Where the endpoint is."},
        failures=("missing", "conflict"),
    )


def _test(service: DeliveryService) -> AnyOperation:
    async def test(call: Call[None, NoQuery]) -> Answer:
        made = await service.test(call.caller.organisation, call.path["endpoint_id"])
        return Answer(encode(made, "us"), (("location", f"{DELIVERIES}/{made.id}"),))

    return Operation(
        method="POST",
        path=f"{ENDPOINT}/test",
        id="testWebhookEndpoint",
        tag=TAG,
        summary="Send a test message",
        description="Of the type `webhook.test`, whatever the endpoint has chosen. The delivery "
        "tells how it went.",
        handler=test,
        query=NoQuery,
        answer=WebhookDelivery,
        status=HTTPStatus.ACCEPTED,
        path_parameters=_ENDPOINT_ID,
        answer_headers={"Location": "Where the delivery is told of."},
        failures=("missing", "conflict"),
    )


def _list_deliveries(service: DeliveryService) -> AnyOperation:
    async def find(call: Call[None, WebhookDeliveryQuery]) -> Answer:
        page = await service.find(call.caller.organisation, call.query, DELIVERIES)
        return Answer(encode(page, "us"), paging.link(call.query, DELIVERIES, page.next))

    return Operation(
        method="GET",
        path=DELIVERIES,
        id="listWebhookDeliveries",
        tag=TAG,
        summary="What was sent, and what waits to be, newest first",
        description="Of the last 30 days.",
        handler=find,
        query=WebhookDeliveryQuery,
        answer=WebhookDeliveryPage,
        answer_headers={"Link": paging.LINK},
    )


def _get_delivery(service: DeliveryService) -> AnyOperation:
    async def get(call: Call[None, NoQuery]) -> Answer:
        found = await service.get(call.caller.organisation, call.path["delivery_id"])
        return Answer(encode(found, "us"))

    return Operation(
        method="GET",
        path=DELIVERY,
        id="getWebhookDelivery",
        tag=TAG,
        summary="A delivery with its message and every attempt at it",
        description="What came back is kept as its status and its first 200 characters.",
        handler=get,
        query=NoQuery,
        answer=WebhookDeliveryRecord,
        path_parameters=_DELIVERY_ID,
        failures=("missing",),
    )


def _send_again(service: DeliveryService) -> AnyOperation:
    async def send(call: Call[None, NoQuery]) -> Answer:
        name = call.path["delivery_id"]
        return Answer(encode(await service.send_again(call.caller.organisation, name), "us"))

    return Operation(
        method="POST",
        path=f"{DELIVERY}/redelivery",
        id="redeliverWebhook",
        tag=TAG,
        summary="Send a message once more",
        description="At once, whatever became of it before, with the same webhook-id and a new "
        "timestamp; and if it fails, again after the same pauses as a new one. Messages about the "
        "same record that still wait come after it.",
        handler=send,
        query=NoQuery,
        answer=WebhookDelivery,
        status=HTTPStatus.ACCEPTED,
        path_parameters=_DELIVERY_ID,
        failures=("missing", "conflict"),
    )
