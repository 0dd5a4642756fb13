"""What each stage answers with."""

from datetime import date

from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.results.labour import Labour
from filmbuild.pipeline.results.materials import Materials
from filmbuild.pipeline.results.price import Price
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


class TakeoffDocument(Document, frozen=True, kw_only=True):
    takeoff: Takeoff


class MaterialsDocument(TakeoffDocument, frozen=True, kw_only=True):
    materials: Materials


class LabourDocument(MaterialsDocument, frozen=True, kw_only=True):
    labour: Labour


class ScheduleDocument(LabourDocument, frozen=True, kw_only=True):
    schedule: Schedule


class EstimateDocument(ScheduleDocument, frozen=True, kw_only=True):
    price: Price
