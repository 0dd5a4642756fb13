"""Before and behind the keys' gate: what an address may ask for, and then what a key may."""

from collections.abc import Callable

from litestar.types import HTTPScope

from filmbuild.edge.gate import Admission, Gate, RawHeaders
from filmbuild.edge.operations import AnyOperation, Caller
from filmbuild.errors import TooManyRequests, Unauthorized
from filmbuild.limits.addresses import bucket_of
from filmbuild.limits.buckets import Charge, Level
from filmbuild.limits.fields import fields_of, refused_fields
from filmbuild.limits.patience import Event, OpenWhereItFails, unnoticed
from filmbuild.settings import Allowance, Limits

FAILED_KEY_COST = 20
"""Of a key that is not known, beside the request's own cost, so that keys cannot be tried fast."""
BODY_BYTES_PER_COST = 64 << 10
"""A body costs 1 more for each of these [byte], as reading it takes time before it is refused."""
_UNANNOUNCED_BYTES = 1 << 20
"""What a body without a length is taken for."""
_KEYED_COST = 1


class LimitedGate:
    """An address pays 1 for each request with a key, and the cost of those that ask for none."""

    def __init__(
        self,
        gate: Gate,
        buckets: OpenWhereItFails,
        limits: Limits,
        note: Callable[[Event], None] = unnoticed,
    ) -> None:
        self._gate = gate
        self._buckets = buckets
        self._limits = limits
        self._note = note

    async def admit(self, operation: AnyOperation, scope: HTTPScope) -> Admission:
        address = bucket_of(scope)
        refused = await self._by_address(
            address, _cost(operation, scope) if operation.public else _KEYED_COST
        )
        if refused is not None:
            return refused
        admission = await self._gate.admit(operation, scope)
        if isinstance(admission.refusal, Unauthorized):
            await self._take(*self._address_charge(address, FAILED_KEY_COST, forced=True))
        if operation.public or admission.refusal is not None:
            return admission
        charges = self._key_charges(admission.caller, address, _cost(operation, scope))
        levels = await self._take(*charges)
        return self._limited(admission, levels)

    async def preflight(self, operations: dict[str, AnyOperation], scope: HTTPScope) -> RawHeaders:
        refused = await self._by_address(bucket_of(scope), _KEYED_COST)
        if refused is not None:
            return refused.headers
        return await self._gate.preflight(operations, scope)

    async def _by_address(self, address: str, cost: int) -> Admission | None:
        levels = await self._take(*self._address_charge(address, cost))
        limited = self._limited(Admission(), levels)
        return None if limited.refusal is None else limited

    def _limited(self, admission: Admission, levels: tuple[Level, ...]) -> Admission:
        if all(one.admitted for one in levels):
            headers = (*admission.headers, *fields_of(levels))
            return Admission(caller=admission.caller, headers=headers)
        self._note("refused")
        headers = (*admission.headers, *refused_fields(levels))
        longest = max((one for one in levels if not one.admitted), key=lambda one: one.wait)
        detail = (
            f"The allowance of this {longest.charge.policy} is used up; "
            f"come again in {longest.seconds} s."
        )
        refusal = TooManyRequests(detail)
        return Admission(caller=admission.caller, headers=headers, refusal=refusal)

    async def _take(self, *charges: Charge) -> tuple[Level, ...]:
        return await self._buckets.take(*charges) if charges else ()

    def _address_charge(
        self, address: str, cost: int, *, forced: bool = False
    ) -> tuple[Charge, ...]:
        return _charges(address, "address", "address", self._limits.address, cost, forced=forced)

    def _key_charges(self, caller: Caller, address: str, cost: int) -> tuple[Charge, ...]:
        owner, key = caller.organisation, caller.actor
        if caller.kind != "publishable":
            return _charges(owner, key, "key", self._limits.secret_key, cost)
        return (
            *_charges(owner, key, "key", self._limits.publishable_key, cost),
            *_charges(owner, f"{key} {address}", "visitor", self._limits.visitor, cost),
        )


def _cost(operation: AnyOperation, scope: HTTPScope) -> int:
    if operation.body is None:
        return operation.cost
    length = next((value for name, value in scope["headers"] if name == b"content-length"), b"")
    size = int(length[:12]) if length.isdigit() else _UNANNOUNCED_BYTES
    return operation.cost + size // BODY_BYTES_PER_COST


def _charges(
    owner: str,
    name: str,
    policy: str,
    allowance: Allowance | None,
    cost: int,
    *,
    forced: bool = False,
) -> tuple[Charge, ...]:
    """None where there is no such limit, or nothing to pay."""
    if allowance is None or cost == 0:
        return ()
    charge = Charge(
        owner=owner, name=name, policy=policy, allowance=allowance, cost=cost, forced=forced
    )
    return (charge,)
