"""Typed clients of the filmbuild service: `Client`, and `AsyncClient` for asyncio.

What is sent and answered is in `filmbuild_sdk.models`; every call, as data, in
`filmbuild_sdk.calls`.
"""

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import Call, Tagged, Timeout
from filmbuild_sdk.client import AsyncClient, Client
from filmbuild_sdk.errors import (
    ApiError,
    BadRequest,
    Conflict,
    DecodeError,
    Fault,
    FilmbuildError,
    Forbidden,
    Infeasible,
    InvalidInput,
    NotFound,
    PreconditionFailed,
    PreconditionRequired,
    Problem,
    RateLimited,
    ServerError,
    TooLarge,
    TransportError,
    Unauthorized,
    Unavailable,
)
from filmbuild_sdk.following import AsyncFollowRepricing, FollowRepricing, RepricingEvent
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.requests import DEFAULT_TIMEOUT, VERSION
from filmbuild_sdk.retries import NO_RETRIES, Retries
from filmbuild_sdk.uploads import Progress, Upload
from filmbuild_sdk.values import (
    Money,
    Quantity,
    celsius,
    fahrenheit,
    feet,
    ft,
    inches,
    metres,
    micrometres,
    millimetres,
    mils,
    quantity,
    square_feet,
    square_metres,
)

__version__ = VERSION
__all__ = [
    "DEFAULT_TIMEOUT",
    "NO_RETRIES",
    "ApiError",
    "AsyncClient",
    "AsyncFollowRepricing",
    "AsyncPages",
    "BadRequest",
    "Call",
    "Client",
    "Conflict",
    "DecodeError",
    "Fault",
    "FilmbuildError",
    "FollowRepricing",
    "Forbidden",
    "Infeasible",
    "InvalidInput",
    "Money",
    "NotFound",
    "Pages",
    "PreconditionFailed",
    "PreconditionRequired",
    "Problem",
    "Progress",
    "Quantity",
    "RateLimited",
    "RepricingEvent",
    "Retries",
    "ServerError",
    "Tagged",
    "Timeout",
    "TooLarge",
    "TransportError",
    "Unauthorized",
    "Unavailable",
    "Upload",
    "calls",
    "celsius",
    "fahrenheit",
    "feet",
    "ft",
    "inches",
    "metres",
    "micrometres",
    "millimetres",
    "mils",
    "models",
    "quantity",
    "square_feet",
    "square_metres",
]
