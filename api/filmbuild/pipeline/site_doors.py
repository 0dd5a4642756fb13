"""How the areas of a site are connected: what a caller says of doorways and shared floor."""

from typing import Annotated, Literal

from msgspec import Meta

from filmbuild.pipeline.inputs import Identifier, Input
from filmbuild.quantities import Length, PositiveLength

DoorwayCoating = Literal["runs_through", "stops"]


class Doorway(Input, frozen=True, kw_only=True):
    """An opening in a wall, `offset` from the start of its side; of island `island` where given.

    `to` is the area on the other side; without it the doorway leads to the area found facing it
    on the plan, or off the coated floor where there is none. A doorway may be given from both
    rooms and is still one: it is recognised by the plan, by `id`, or by each room naming the
    other. The coating "runs_through", or "stops" under the leaf. `door` says that there is a leaf
    to be kept shut against dust and on curing floor; `exit` that the crew leaves here, to the
    outside or on to floor that is not coated. `height` is needed where there is no leaf and a
    dust barrier has to be hung.
    """

    side: Annotated[int, Meta(ge=0)]
    width: PositiveLength
    coating: DoorwayCoating
    offset: Length = Length(0.0)
    id: Identifier | None = None
    island: Annotated[int, Meta(ge=0)] | None = None
    to: Identifier | None = None
    door: bool = False
    exit: bool = False
    height: PositiveLength | None = None


class Join(Input, frozen=True, kw_only=True):
    """Two areas without a wall between them: the coating runs on wherever their outlines meet."""

    between: tuple[Identifier, Identifier]
