"""What each stage answers with."""

from datetime import date

from filmbuild.money import Currency
from filmbuild.pipeline.job import Conditions, CrewMember, LayerChange, StockLot, WorkCalendar
from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.results.labour import Labour
from filmbuild.pipeline.results.materials import Materials, PurchaseList
from filmbuild.pipeline.results.price import OptionPrice, Price
from filmbuild.pipeline.results.schedule import Schedule
from filmbuild.pipeline.results.takeoff import Takeoff
from filmbuild.pipeline.trace import Caution, Note


class Document(Result, frozen=True, kw_only=True):
    """What every stage's document says of itself."""

    engine_version: str
    catalogue_revision: int | None
    priced_on: date | None
    units: str
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]


class Basis(Result, frozen=True, kw_only=True):
    """The job that a document was computed for, with what was assumed where the job left a choice.

    A stage that is handed the document refuses a job that differs in anything its figures depend
    on.
    """

    system: str
    rate_book: str
    currency: Currency
    conditions: Conditions
    crew: tuple[CrewMember, ...]
    calendar: WorkCalendar
    start: date | None
    layers: tuple[LayerChange, ...] = ()
    stock: tuple[StockLot, ...] = ()
    price_tier: str | None = None


class TakeoffDocument(Document, frozen=True, kw_only=True):
    takeoff: Takeoff


class MaterialsDocument(TakeoffDocument, frozen=True, kw_only=True):
    basis: Basis
    materials: Materials


class PurchaseListDocument(Document, frozen=True, kw_only=True):
    purchase_list: PurchaseList


class LabourDocument(MaterialsDocument, frozen=True, kw_only=True):
    labour: Labour


class ScheduleDocument(LabourDocument, frozen=True, kw_only=True):
    schedule: Schedule


class EstimateDocument(ScheduleDocument, frozen=True, kw_only=True):
    """The job without its options, and what each of these adds to its price."""

    price: Price
    options: tuple[OptionPrice, ...] = ()
