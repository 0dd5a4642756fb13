"""Rules of doorways, of floor that runs on, and of the crew's way over the floor."""

from filmbuild.pipeline.trace import Rule

RULES = (
    Rule(
        id="takeoff.doorways",
        statement="A doorway given from two rooms is one: recognised on the plan, by its id, or by "
        "each room naming the other. Where the coating runs through, both rooms are joined there. "
        "Where it stops under the leaf between two areas there is one edge: it is open in the area "
        "that comes first on the site, and the other runs up against it. A leaf stays shut during "
        "dust work and cure wherever the doorway leads off the coated floor or the coating stops "
        "in it.",
        source="common practice, no source",
    ),
    Rule(
        id="takeoff.doorway-barrier",
        statement="A doorway without a leaf that leads off the coated floor is closed with "
        "sheeting, counted once; the dust barrier of the area it is given in includes it.",
        equation="width x height, with laps and overlaps where the sheet is given",
        source="common practice, no source",
    ),
    Rule(
        id="takeoff.placing-order",
        statement="An area that is coated is not walked on, so each is left over areas that are "
        "coated later: the one with the most areas between it and an exit is coated first, equals "
        "in the order of the site, and `place_before` is kept. Inside an area, work starts at the "
        "corner farthest from the way out and ends there.",
        source="breadth-first distances; common practice, no source",
    ),
)
