"""What other systems are told of stored estimates."""

from typing import Literal

from filmbuild.estimates.store import RevisionSummary
from filmbuild.money import Currency, Money
from filmbuild.webhooks.events import EstimateEventData, Event


def event_of(
    step: Literal["created", "revised", "repriced"],
    estimate: str,
    revision: RevisionSummary,
    repricing: str | None = None,
) -> Event:
    data = EstimateEventData(
        id=estimate,
        revision=revision.revision,
        total=Money(revision.total, Currency(revision.currency)),
        repricing=repricing,
    )
    return Event(type=f"estimate.{step}", subject=estimate, data=data, at=revision.created_at)
