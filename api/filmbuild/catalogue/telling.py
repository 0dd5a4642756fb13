"""What other systems are told of the catalogue."""

from filmbuild.catalogue.store import Revision
from filmbuild.webhooks.events import CATALOGUE, CatalogueEventData, Event


def event_of(made: Revision) -> Event:
    data = CatalogueEventData(revision=made.revision)
    return Event(type="catalogue.changed", subject=CATALOGUE, data=data, at=made.created_at)
