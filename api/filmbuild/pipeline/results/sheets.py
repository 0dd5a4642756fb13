"""What the crew takes along: the mixing sheet and the loading list."""

from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.results.documents import Document
from filmbuild.pipeline.results.materials import Mix, Placer
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import AirFlow, Area, Power, Thickness, Volume


class SheetCoat(Result, frozen=True, kw_only=True):
    """A coat or a repair with its mixes in placing order; `ratio` is by volume, in `parts`."""

    layer: str
    name: str
    kind: str
    product: str
    product_name: str
    parts: tuple[str, ...]
    ratio: tuple[float, ...]
    wet_film: Thickness | None
    floor: Area
    vertical: Area
    ordered_volume: Volume
    mixes: tuple[Mix, ...]
    placers: tuple[Placer, ...] = ()


class MixingSheet(Result, frozen=True, kw_only=True):
    """Every mix of the job; `areas` are names by id."""

    site: str
    system: str
    areas: dict[str, str]
    coats: tuple[SheetCoat, ...]


class MixingSheetDocument(Document, frozen=True, kw_only=True):
    sheet: MixingSheet


class LoadItem(Result, frozen=True, kw_only=True):
    """So many of one thing; `days` are the machine days that are paid for, minimum rental included.

    `used_for` names the layers, repairs or activities that it is for, where that is known.
    """

    kind: str
    id: str
    name: str
    count: int
    unit: str
    days: int | None = None
    used_for: tuple[str, ...] = ()


class LoadStage(Result, frozen=True, kw_only=True):
    stage: str
    items: tuple[LoadItem, ...]


class Circuits(Result, frozen=True, kw_only=True):
    """Circuits of one voltage, and the power that they carry together."""

    volts: int
    phases: int
    circuits: int
    power: Power


class SitePower(Result, frozen=True, kw_only=True):
    """What the machines draw that run at once, in the activity that draws the most.

    Machines whose power the rate book does not state are in `unstated`, and not in the sum.
    """

    activity: str
    power: Power
    circuits: tuple[Circuits, ...]
    unstated: tuple[str, ...]
    trace: Trace


class SiteExtraction(Result, frozen=True, kw_only=True):
    """The air that must be drawn off at once, in the activity that needs the most of it.

    `drawn` is what the extractors of that activity draw off, and `lacking` what is left over.
    """

    activity: str
    needed: AirFlow
    drawn: AirFlow
    lacking: AirFlow
    trace: Trace


class LoadingList(Result, frozen=True, kw_only=True):
    """All that goes on the van, by the stage of the job that needs it first."""

    site: str
    system: str
    stages: tuple[LoadStage, ...]
    power: SitePower | None
    extraction: SiteExtraction | None


class LoadingListDocument(Document, frozen=True, kw_only=True):
    loading_list: LoadingList
