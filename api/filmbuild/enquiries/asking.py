"""What visitors tell of their floor, in their own terms."""

from datetime import date
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from filmbuild.enquiries.form import Language
from filmbuild.pipeline.requests import TEXT
from filmbuild.pipeline.site import Identifier, Input
from filmbuild.quantities import PositiveLength

CrackWidth = Literal["hairline", "coin", "finger"]
Coordinate = Annotated[float, Meta(ge=0, le=1_000)]
Line = Annotated[str, Meta(max_length=200, pattern=r"^[^\u0000-\u001f\u007f]*$(?!\n)")]
MOST_ROOMS = 12
MOST_CORNERS = 40


class RoomBySize(Input, tag_field="kind", tag="size", frozen=True, kw_only=True):
    """A room with four right corners."""

    length: PositiveLength
    width: PositiveLength


class RoomByOutline(Input, tag_field="kind", tag="outline", frozen=True, kw_only=True):
    """A room by its corners in order round it, each [x, y] in `unit`."""

    unit: Literal["m", "ft"]
    corners: Annotated[
        tuple[tuple[Coordinate, Coordinate], ...], Meta(min_length=3, max_length=MOST_CORNERS)
    ]


class RoomSteps(Input, frozen=True, kw_only=True):
    """Steps to be coated along with the floor."""

    count: Annotated[int, Meta(ge=1, le=60)]
    width: PositiveLength


class FloorCracks(Input, frozen=True, kw_only=True):
    """All cracks together: a hairline, wide enough for the edge of a coin, or for a finger tip."""

    length: PositiveLength
    width: CrackWidth = "hairline"


class FloorQuestion(Input, frozen=True, kw_only=True):
    """The floor that a price is asked for; `finish` is one of those that the form offers."""

    language: Language | None = None
    rooms: Annotated[
        tuple[RoomBySize | RoomByOutline, ...], Meta(min_length=1, max_length=MOST_ROOMS)
    ]
    finish: Identifier
    steps: RoomSteps | None = None
    cracks: FloorCracks | None = None
    wished_date: date | None = None


class EnquiryConsent(Input, frozen=True, kw_only=True):
    """That the visitor agrees to the form's words of this version."""

    accepted: bool
    version: Annotated[str, Meta(pattern=r"^[0-9a-f]{16}$(?!\n)")]


class EnquiryRequest(Input, frozen=True, kw_only=True):
    """A floor, and who asks: an e-mail address or a telephone number is needed to answer.

    `proof` is the solution of a challenge, in base64 as altcha has it.
    """

    question: FloorQuestion
    name: Annotated[Line, Meta(min_length=1)]
    email: Line = ""
    telephone: Annotated[
        str, Meta(max_length=40, pattern=r"^([+0-9(][0-9 ()./-]{4,38}[0-9])?$(?!\n)")
    ] = ""
    place: Line = ""
    message: Annotated[str, Meta(max_length=4_000, pattern=TEXT)] = ""
    consent: EnquiryConsent
    proof: Annotated[str, Meta(max_length=4_000, pattern=r"^[A-Za-z0-9+/]*={0,2}$(?!\n)")] = ""


class Person(msgspec.Struct, frozen=True, kw_only=True):
    """All that tells who asks."""

    name: str
    email: str
    telephone: str
    place: str
    message: str
