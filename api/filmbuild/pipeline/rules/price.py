"""Rules of the price stage."""

from filmbuild.pipeline.trace import Rule

_ALGEBRA = "algebra: markup = margin / (1 - margin)"

RULES = (
    Rule(
        id="price.packs-bought",
        statement="Whole packs are charged, because whole packs are paid for.",
        equation="amount = round(packs x unit price)",
        source="common practice, no source",
    ),
    Rule(
        id="price.used-share",
        statement="Only the share of each purchase that the floor takes is charged; the surplus "
        "stays in stock.",
        equation="amount = purchase cost x need / bought",
        source="common practice, no source",
    ),
    Rule(
        id="price.line",
        statement="A line's amount is quantity times unit price, rounded once, half up and "
        "symmetrically about zero.",
        equation="amount = round(quantity x unit price)",
        source="Peppol BIS Billing 3.0, calculation of the line net amount",
    ),
    Rule(
        id="price.materials-tax",
        statement="Where the contractor is the consumer of the materials, tax on them is a cost.",
        equation="amount = round(materials x rate)",
        source="catalogue tax rule; state sales tax rules on real-property contracts differ",
    ),
    Rule(
        id="price.contingency",
        statement="Contingency is a share of the direct cost.",
        equation="contingency = round(direct cost x percent)",
        source="common practice, no source",
    ),
    Rule(
        id="price.overhead",
        statement="Overhead is a share of direct cost and contingency.",
        equation="overhead = round((direct cost + contingency) x percent)",
        source="common practice, no source",
    ),
    Rule(
        id="price.markup",
        statement="Markup is a share of cost.",
        equation="net = round(cost x (1 + markup))",
        source=_ALGEBRA,
    ),
    Rule(
        id="price.margin",
        statement="Margin is a share of the price, so cost is divided, not multiplied.",
        equation="net = round(cost / (1 - margin))",
        source=_ALGEBRA,
    ),
    Rule(
        id="price.minimum-charge",
        statement="A job is not offered under the minimum charge.",
        equation="net = max(net, minimum charge)",
        source="common practice, no source",
    ),
    Rule(
        id="price.sale-tax",
        statement="Tax is taken once per category and rate on the sum of its lines, never per line.",
        equation="tax = round(base x rate)",
        source="EN 16931-1, business rule BR-CO-17",
    ),
    Rule(
        id="price.per-area",
        statement="The net price divided by the coated floor.",
        equation="net / floor",
        source="common practice, no source",
    ),
)
