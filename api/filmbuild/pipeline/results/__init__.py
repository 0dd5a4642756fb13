"""What the stages find: frozen records, SI inside, each figure with its trace.

A stage's document carries the documents of the stages before it, so that any of them can be handed
back as the input of the next.
"""

from filmbuild.pipeline.results.comparison import (
    ComparedPurchase,
    ComparisonDocument,
    VariantFigures,
    VariantOutcome,
    VariantProblem,
)
from filmbuild.pipeline.results.documents import (
    Basis,
    EstimateDocument,
    LabourDocument,
    MaterialsDocument,
    ScheduleDocument,
    TakeoffDocument,
)
from filmbuild.pipeline.results.labour import (
    Activity,
    CrewCosts,
    CureTimes,
    EquipmentCost,
    Labour,
    LabourCost,
    Section,
    Task,
)
from filmbuild.pipeline.results.materials import (
    AggregateAmount,
    Coat,
    ConsumableLine,
    Materials,
    Mix,
    PackLine,
    PartAmount,
    Purchase,
)
from filmbuild.pipeline.results.price import CostLine, Price, TaxLine
from filmbuild.pipeline.results.schedule import (
    AreaOpen,
    CoatReady,
    PlanBound,
    Schedule,
    Scheduled,
    WorkedDay,
)
from filmbuild.pipeline.results.takeoff import AreaTakeoff, ReadingsNeeded, Takeoff, Totals
from filmbuild.pipeline.results.traffic import (
    DoorwaySide,
    DoorwayTakeoff,
    EdgeRun,
    PlanPoint,
    Traffic,
    TrafficStep,
)

__all__ = [
    "Activity",
    "AggregateAmount",
    "AreaOpen",
    "AreaTakeoff",
    "Basis",
    "Coat",
    "CoatReady",
    "ComparedPurchase",
    "ComparisonDocument",
    "ConsumableLine",
    "CostLine",
    "CrewCosts",
    "CureTimes",
    "DoorwaySide",
    "DoorwayTakeoff",
    "EdgeRun",
    "EquipmentCost",
    "EstimateDocument",
    "Labour",
    "LabourCost",
    "LabourDocument",
    "Materials",
    "MaterialsDocument",
    "Mix",
    "PackLine",
    "PartAmount",
    "PlanBound",
    "PlanPoint",
    "Price",
    "Purchase",
    "ReadingsNeeded",
    "Schedule",
    "ScheduleDocument",
    "Scheduled",
    "Section",
    "Takeoff",
    "TakeoffDocument",
    "Task",
    "TaxLine",
    "Totals",
    "Traffic",
    "TrafficStep",
    "VariantFigures",
    "VariantOutcome",
    "VariantProblem",
    "WorkedDay",
]
