"""Rules of the comparison of variants."""

from filmbuild.pipeline.trace import Rule

RULES = (
    Rule(
        id="comparison.dry-film",
        statement="The build of a floor is the dry films of its coats together; coats that state "
        "none, and repairs, are left out.",
        equation="sum of dry films",
        source="arithmetic",
    ),
    Rule(
        id="comparison.difference",
        statement="What a variant has more than the first one that can be done; what is less, or "
        "sooner, is below zero. Floor and dry film are told as a share of those of the first.",
        equation="difference = here - first; share = here / first",
        source="arithmetic",
    ),
)
