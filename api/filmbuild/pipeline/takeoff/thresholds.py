"""Floor in the doorways of walls that rooms are measured up to, and belongs to neither room."""

import msgspec

from filmbuild.pipeline.takeoff.contacts import APART
from filmbuild.pipeline.takeoff.doorways import Door
from filmbuild.pipeline.takeoff.found import Found
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Length

REVEALED_FROM = 0.15
"""[m] In thinner walls a frame covers both reveals (common practice, no source)."""


class Threshold(msgspec.Struct, frozen=True, gc=False):
    """`depth` is that of the wall."""

    width: Length
    depth: Length

    @property
    def reveals(self) -> float:
        """[m] Wall on both sides of it, as deep as the wall."""
        return 2 * self.depth if self.depth >= REVEALED_FROM else 0.0


def threshold_of(door: Door) -> Threshold | None:
    """Where the coating runs through between two areas that the plan shows apart."""
    contact = door.contact
    if contact is None or door.given.coating != "runs_through" or not door.is_next:
        return None
    if contact.gap <= APART:
        return None
    return Threshold(Length(door.given.width), Length(contact.gap))


def measure_thresholds(thresholds: tuple[Threshold, ...], found: Found) -> None:
    found.area(
        "thresholds",
        sum([one.width * one.depth for one in thresholds]),
        Trace(
            "takeoff.thresholds",
            {
                "widths": [one.width for one in thresholds],
                "depths": [one.depth for one in thresholds],
            },
        ),
    )
