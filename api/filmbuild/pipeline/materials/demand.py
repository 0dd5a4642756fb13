"""What the mix plan starts from: what a coat needs area by area, and how its product is mixed."""

import msgspec

from filmbuild.pipeline.materials.crew import Pace
from filmbuild.pipeline.materials.life import Life
from filmbuild.pipeline.specification import PricedPack, Product


class Demand(msgspec.Struct, frozen=True):
    """What one coat or repair needs, area by area in placing order.

    `volume` [m3] is net, `covers` [m2] what it covers, and `placed` [m3] the part of the volume
    that fixes how long placing takes: the film, or the void. `work` has how much of each task's
    driver there is; the tasks of one mix follow one another.
    """

    areas: list[str]
    volume: list[float]
    covers: list[float]
    placed: list[float]
    work: list[tuple[Pace, list[float]]]

    def times(self, crew: int | None = None) -> list[float]:
        """[s] Placing time of each area, by the gangs of the job or of another crew."""
        pace, quantities = self.work[0]
        unit = pace.time(crew)
        times = [quantity * unit for quantity in quantities]
        for pace, quantities in self.work[1:]:
            unit = pace.time(crew)
            pairs = zip(times, quantities, strict=True)
            times = [time + quantity * unit if quantity else time for time, quantity in pairs]
        return times

    def without_gaps(self) -> "Demand":
        """Areas that this coat does not need are left out."""
        if all(self.volume):
            return self
        kept = [index for index, volume in enumerate(self.volume) if volume > 0]
        return Demand(
            [self.areas[index] for index in kept],
            [self.volume[index] for index in kept],
            [self.covers[index] for index in kept],
            [self.placed[index] for index in kept],
            [(pace, [quantities[index] for index in kept]) for pace, quantities in self.work],
        )


class Batch(msgspec.Struct, frozen=True):
    """How a product is mixed here."""

    label: str
    product: Product
    packs: tuple[PricedPack, ...]
    thinner: float
    life: Life
    temperature: float

    @property
    def residue(self) -> float:
        """[m3] What stays in each container."""
        return self.product.container_residue or 0.0

    def time_to_place(self, brings: float) -> float:
        """[s] What is left of the life of a mix that brings so much [m3], once it is mixed."""
        return self.life.of(brings + self.residue) - self.product.mixing_time
