"""The operations of customers, each behind the link that they were given."""

from collections.abc import Awaitable, Callable

from filmbuild.edge.decoding import decode
from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    NoQuery,
    Operation,
    PathParameter,
    Representation,
)
from filmbuild.errors import Conflict, Fault, InvalidInput
from filmbuild.quotations.forms import FORM, read_form
from filmbuild.quotations.offer_wire import Acceptance, AcceptanceForm, OfferShown, Refusal
from filmbuild.quotations.offers import OfferService, OtherTotal
from filmbuild.quotations.records import Shown

PATH = "/v1/offers/{token}"
TAG = "offers"
JSON = "application/json"
SEE_OTHER = 303
# whoever has the link may decide: it must not leak through caches, referrers or search
PRIVATE = (
    ("cache-control", "no-store"),
    ("referrer-policy", "no-referrer"),
    ("x-robots-tag", "noindex, nofollow"),
)
_TOKEN = PathParameter("token", "the secret part of the link", "[A-Za-z0-9_.-]{40,600}")
_BODIES = (JSON, FORM)
_BODY_LIMIT = 64 << 10
HTML = "text/html"
Body = Call[bytes, NoQuery]
ConfirmationPage = Callable[[Shown, AcceptanceForm], Awaitable[Answer]]


def offer_operations(
    service: OfferService,
    representations: tuple[Representation[None, NoQuery], ...] = (),
    page: ConfirmationPage | None = None,
) -> tuple[AnyOperation, ...]:
    """`representations` are other forms of an offer, made of `service.show`.

    `page` answers a form of acceptance without a total: it shows the customer what the choice
    comes to, with a form that says it. Where it is given, decisions are answered in HTML too.
    """
    decisions = _Decisions(service, page)

    async def get(call: Call[None, NoQuery]) -> Answer:
        return Answer(await service.get(call.path["token"]), PRIVATE)

    return (
        Operation(
            method="GET",
            path=PATH,
            id="getOffer",
            tag=TAG,
            summary="An offer as its customer sees it",
            description="The same for as long as the link is good, whatever became of the offer: "
            "`state` says it.",
            handler=get,
            query=NoQuery,
            answer=OfferShown,
            public=True,
            path_parameters=(_TOKEN,),
            failures=("missing",),
            representations=representations,
        ),
        _deciding(
            "acceptance",
            "acceptOffer",
            "Accept an offer",
            "One alternate, with the options that are ticked, at the total that was shown. The "
            "same acceptance once more is answered as the first; after another decision, or where "
            "the offer is no longer open or the total is another, it is a conflict, and `errors` "
            "has a code for each of these.",
            {JSON: Acceptance, FORM: AcceptanceForm},
            decisions.accept,
            decisions.accept_on_page if page else None,
        ),
        _deciding(
            "decline",
            "declineOffer",
            "Decline an offer",
            "The same refusal once more is answered as the first.",
            {JSON: Refusal, FORM: Refusal},
            decisions.decline,
            decisions.decline_on_page if page else None,
        ),
    )


class _Decisions:
    """What is done with acceptances and refusals, for programs and for browsers."""

    def __init__(self, service: OfferService, page: ConfirmationPage | None) -> None:
        self._service = service
        self._page = page

    async def accept(self, call: Body) -> Answer:
        token = call.path["token"]
        if not _is_form(call):
            given = decode(Acceptance, call.body)
            return Answer(await self._service.accept(token, given), PRIVATE)
        chosen = await self._service.read_form(token, _acceptance(call))
        if chosen is None:
            detail = 'give the total that was shown, such as "1234.50 USD"'
            fault = Fault("/total", "missing-field", detail)
            raise InvalidInput("The request is not valid.", (fault,))
        return _back(token, await self._service.accept(token, chosen))

    async def accept_on_page(self, call: Body) -> Answer:
        """Where the total has not been seen, or has changed, it is shown first."""
        token = call.path["token"]
        if not _is_form(call):
            await self._service.accept(token, decode(Acceptance, call.body))
            return _back(token)
        form = _acceptance(call)
        chosen = await self._service.read_form(token, form)
        if chosen is not None:
            try:
                await self._service.accept(token, chosen)
            except OtherTotal:
                chosen = None
            except Conflict:
                return _back(token)
        if chosen is None and self._page is not None:
            return await self._page(await self._service.show(token), form)
        return _back(token)

    async def decline(self, call: Body) -> Answer:
        token = call.path["token"]
        answer = await self._service.decline(token, _refusal(call))
        return _back(token, answer) if _is_form(call) else Answer(answer, PRIVATE)

    async def decline_on_page(self, call: Body) -> Answer:
        token = call.path["token"]
        try:
            await self._service.decline(token, _refusal(call))
        except Conflict:
            return _back(token)
        return _back(token)


def _acceptance(call: Body) -> AcceptanceForm:
    return read_form(AcceptanceForm, call.body, frozenset(("options",)))


def _refusal(call: Body) -> Refusal:
    return read_form(Refusal, call.body) if _is_form(call) else decode(Refusal, call.body)


def _deciding(
    last: str,
    name: str,
    summary: str,
    description: str,
    bodies: dict[str, type],
    handler: Callable[[Body], Awaitable[Answer]],
    on_page: Callable[[Body], Awaitable[Answer]] | None,
) -> AnyOperation:
    shown = Representation(
        media_type=HTML,
        summary="The way back to the offer",
        description="For browsers: the offer's page says what became of it, also where the "
        "decision came too late. A form of acceptance without the total that was shown is answered "
        "with a page that shows it.",
        handler=on_page or handler,
    )
    return Operation(
        method="POST",
        path=f"{PATH}/{last}",
        id=name,
        tag=TAG,
        summary=summary,
        description=f"{description} A form is answered with the way back to the offer.",
        handler=handler,
        query=NoQuery,
        body=bytes,
        body_media_types=_BODIES,
        body_types=bodies,
        body_limit=_BODY_LIMIT,
        answer=OfferShown,
        other_statuses=(SEE_OTHER,),
        public=True,
        path_parameters=(_TOKEN,),
        failures=("malformed", "missing", "conflict"),
        representations=(shown,) if on_page else (),
    )


def _is_form(call: Body) -> bool:
    kind = call.headers.get("content-type", "").partition(";")[0]
    return kind.strip().lower() == FORM


def _back(token: str, content: bytes = b"") -> Answer:
    location = ("location", PATH.format(token=token))
    return Answer(content, (location, *PRIVATE), status=SEE_OTHER)
