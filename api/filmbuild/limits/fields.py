"""The header fields that tell callers of their allowance.

By draft-ietf-httpapi-ratelimit-headers-11, which may still change.
"""

from collections.abc import Sequence
from math import ceil

from filmbuild.edge.gate import RawHeaders
from filmbuild.limits.buckets import Level


def fields_of(levels: Sequence[Level]) -> RawHeaders:
    """Counted in cost, where 1 is a read.

    `RateLimit-Policy` has the burst and the seconds in which an empty bucket fills; `RateLimit` has
    what is left, and for how long it must do.
    """
    if not levels:
        return ()
    policies = (
        f'"{one.charge.policy}";q={one.charge.allowance.burst};w={max(1, ceil(one.charge.span))}'
        for one in levels
    )
    present = (f'"{one.charge.policy}";r={one.left};t={one.seconds}' for one in levels)
    return (("ratelimit-policy", ", ".join(policies)), ("ratelimit", ", ".join(present)))


def refused_fields(levels: Sequence[Level]) -> RawHeaders:
    """Of the allowances that are used up, with `Retry-After` as well."""
    used_up = [one for one in levels if not one.admitted]
    seconds = max(one.seconds for one in used_up)
    return (("retry-after", str(seconds)), *fields_of(used_up))
