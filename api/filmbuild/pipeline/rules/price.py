"""Rules of the price stage."""

from filmbuild.pipeline.trace import Rule

_ALGEBRA = "algebra: markup = margin / (1 - margin)"
_PRACTICE = "common practice, no source"

RULES = (
    Rule(
        id="price.packs-bought",
        statement="Whole packs are charged, because whole packs are paid for.",
        equation="amount = round(packs x unit price)",
        source=_PRACTICE,
    ),
    Rule(
        id="price.used-share",
        statement="Only the share of each purchase that the floor takes is charged; the surplus "
        "stays in stock. The price of a pack is spread over its parts by volume, and of each part "
        "what is needed over what is bought is charged, at most all of it.",
        equation="amount = round(sum over packs of count x unit price x sum over parts of "
        "volume share x min(needed / bought, 1))",
        source=_PRACTICE,
    ),
    Rule(
        id="price.line",
        statement="A line's amount is quantity times unit price, rounded once, half up and "
        "symmetrically about zero. Quantity and unit price are those of the record that the rule "
        "named as found_by made.",
        equation="amount = round(quantity x unit price)",
        source="Peppol BIS Billing 3.0, calculation of the line net amount",
    ),
    Rule(
        id="price.materials-tax",
        statement="Where the contractor is the consumer of the materials, tax on them is a cost. "
        "Packs and consumables are materials; freight and what is charged up to a supplier's minimum are "
        "not.",
        equation="amount = round(materials x rate)",
        source="catalogue tax rule; state sales tax rules on real-property contracts differ",
    ),
    Rule(
        id="price.direct-cost",
        statement="Direct cost is the sum of the rounded amounts of all cost lines; each group is "
        "the sum of its own.",
        equation="direct cost = sum of the groups",
        source=_PRACTICE,
    ),
    Rule(
        id="price.contingency",
        statement="Contingency is a share of the direct cost.",
        equation="contingency = round(direct cost x percent)",
        source=_PRACTICE,
    ),
    Rule(
        id="price.overhead",
        statement="Overhead is a share of direct cost and contingency.",
        equation="overhead = round((direct cost + contingency) x percent)",
        source=_PRACTICE,
    ),
    Rule(
        id="price.cost",
        statement="Cost is all that the job takes before any gain.",
        equation="cost = direct cost + contingency + overhead",
        source=_PRACTICE,
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
        statement="A job is not offered under the minimum charge: it takes the place of a net "
        "price that the rule named as found_by made and that is lower.",
        equation="net = max(net by terms, minimum charge)",
        source=_PRACTICE,
    ),
    Rule(
        id="price.gain",
        statement="Markup and margin as achieved, after rounding and any minimum charge, in per "
        "cent to two decimals; zero where there is nothing to take a share of.",
        equation="markup = (net - cost) / cost; margin = (net - cost) / net",
        source=_ALGEBRA,
    ),
    Rule(
        id="price.sale-tax",
        statement="Tax is taken once per category and rate on the sum of its lines, never per line.",
        equation="tax = round(base x rate)",
        source="EN 16931-1, business rule BR-CO-17",
    ),
    Rule(
        id="price.total",
        statement="The total is the net price and all taxes on the sale.",
        equation="total = net + taxes",
        source="EN 16931-1, business rule BR-CO-15 (from memory)",
    ),
    Rule(
        id="price.per-area",
        statement="The net price divided by the coated floor, in square feet and in square metres.",
        equation="round(net / floor)",
        source=_PRACTICE,
    ),
)
