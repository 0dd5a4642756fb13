"""What a job pack says, in words and figures ready to be set."""

from filmbuild.quotations.documents.shown import CautionShown, Fact, Figure, Shown


class ActivityShown(Shown, frozen=True, kw_only=True):
    when: str
    name: str
    why: str


class DayShown(Shown, frozen=True, kw_only=True):
    title: str
    people: str
    activities: tuple[ActivityShown, ...]


class OpenShown(Shown, frozen=True, kw_only=True):
    """Until when an area is kept off."""

    area: str
    foot: str
    vehicles: str
    cured: str


class LoadShown(Shown, frozen=True, kw_only=True):
    count: str
    name: str
    days: str
    used_for: str
    comes_back: bool


class LoadKind(Shown, frozen=True, kw_only=True):
    title: str
    rows: tuple[LoadShown, ...]


class LoadStageShown(Shown, frozen=True, kw_only=True):
    title: str
    kinds: tuple[LoadKind, ...]


class PartShown(Shown, frozen=True, kw_only=True):
    volume: str
    mass: str


class MixShown(Shown, frozen=True, kw_only=True):
    number: str
    source: str
    parts: tuple[PartShown, ...]
    volume: str
    stir: str
    starts_at: str
    down_within: str
    next_by: str
    covers: str
    where: str


class CoatShown(Shown, frozen=True, kw_only=True):
    name: str
    product: str
    facts: tuple[str, ...]
    gangs: tuple[str, ...]
    parts: tuple[str, ...]
    mixes: tuple[MixShown, ...]


class PackShown(Shown, frozen=True, kw_only=True):
    language: str
    title: str
    heading: str
    facts: tuple[Fact, ...]
    cautions: tuple[CautionShown, ...]
    days: tuple[DayShown, ...]
    openings: tuple[OpenShown, ...]
    stages: tuple[LoadStageShown, ...]
    supply: tuple[Fact, ...]
    coats: tuple[CoatShown, ...]
    notes: tuple[str, ...]
    figures: tuple[Figure, ...]
    labels: dict[str, str]
    paper: str
