"""What a comparison of several ways to do a job finds."""

from datetime import date

from filmbuild.errors import Fault
from filmbuild.money import Money
from filmbuild.pipeline.results.base import Moment, Result
from filmbuild.pipeline.results.documents import Document
from filmbuild.pipeline.results.materials import PackLine
from filmbuild.pipeline.trace import Caution, Note, Trace
from filmbuild.quantities import Area, Hours, Thickness


class ComparedPurchase(Result, frozen=True, kw_only=True):
    """The packs of one product, and what they cost together."""

    product: str
    name: str
    packs: tuple[PackLine, ...]
    cost: Money
    trace: Trace


class VariantFigures(Result, frozen=True, kw_only=True):
    """A variant in brief: each figure is that of its estimate. `traces` is by field.

    `shifts` is the number of days of work, `crew` that of people; `last_work` is when work ends.
    `floor` is what is coated of the site, and `dry_film` that of all coats together, as far as
    they state one.
    """

    system: str
    crew: int
    floor: Area
    coats: int
    dry_film: Thickness
    first_day: date
    last_day: date
    last_work: Moment
    shifts: int
    visits: int
    foot_traffic_from: Moment
    vehicle_traffic_from: Moment
    full_cure_at: Moment
    productive: Hours
    paid: Hours
    cost: Money
    net: Money
    total: Money
    purchases: tuple[ComparedPurchase, ...]
    traces: dict[str, Trace]


class VariantProblem(Result, frozen=True, kw_only=True):
    """Why a variant cannot be done, as the problem that its estimate would be answered with.

    Pointers of `errors` lead into the request of the comparison.
    """

    code: str
    detail: str
    errors: tuple[Fault, ...]


class VariantDifferences(Result, frozen=True, kw_only=True):
    """What a variant has more (or below zero, less) than the first one that can be done.

    Hours are elapsed ones [h]: later above zero, sooner below. The shares are floor and dry film
    over those of the first; that of the film is missing where the first states none.
    """

    floor_share: float
    dry_film_share: float | None
    last_work_hours: float
    foot_traffic_hours: float
    vehicle_traffic_hours: float
    full_cure_hours: float
    coats: int
    shifts: int
    visits: int
    cost: Money
    net: Money
    total: Money
    trace: Trace


class VariantOutcome(Result, frozen=True, kw_only=True):
    """Either figures or a problem. `notes` are those that not all variants with figures have.

    `against_first` compares with the first variant that has figures, and is missing from that one.
    """

    label: str
    figures: VariantFigures | None
    problem: VariantProblem | None
    against_first: VariantDifferences | None = None
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]


class ComparisonDocument(Document, frozen=True, kw_only=True):
    """Variants in the order in which they were asked for.

    `notes` and `cautions` are those that all variants with figures have. `cheapest` has the lowest
    total, `earliest` the earliest end of work, and `first_open` is the first that may be walked on:
    labels, the first of equals, and null where no variant can be done.
    """

    variants: tuple[VariantOutcome, ...]
    cheapest: str | None
    earliest: str | None
    first_open: str | None
