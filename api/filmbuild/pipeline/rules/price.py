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
        equation="price by terms = round(cost x (1 + markup))",
        source=_ALGEBRA,
    ),
    Rule(
        id="price.margin",
        statement="Margin is a share of the price, so cost is divided, not multiplied.",
        equation="price by terms = round(cost / (1 - margin))",
        source=_ALGEBRA,
    ),
    Rule(
        id="price.discount",
        statement="A discount is a stated sum, or a share of the price by the terms before any "
        "discount, so that the order of several does not matter. Together they are at most the "
        "price.",
        equation="discount = -round(price by terms x percent), or -stated",
        source=_PRACTICE,
    ),
    Rule(
        id="price.minimum-charge",
        statement="A job is not offered under the minimum charge: what the price after discounts "
        "lacks of it is added.",
        equation="addition = max(minimum charge - price, 0)",
        source=_PRACTICE,
    ),
    Rule(
        id="price.rounding",
        statement="The net price is brought to a whole number of steps, to the nearest (halves "
        "up) or to the next above; up in either case where it would come under the minimum charge.",
        equation="addition = step x round(price / step) - price",
        source=_PRACTICE,
    ),
    Rule(
        id="price.net",
        statement="The net price is the price by the terms with discounts, addition up to the "
        "minimum charge, and rounding.",
        equation="net = price by terms + discounts + minimum + rounding",
        source=_PRACTICE,
    ),
    Rule(
        id="price.gain",
        statement="Markup and margin as achieved, after discounts, any minimum charge and rounding, in per "
        "cent to two decimals; zero where there is nothing to take a share of.",
        equation="markup = (net - cost) / cost; margin = (net - cost) / net",
        source=_ALGEBRA,
    ),
    Rule(
        id="price.subcontract",
        statement="Work bought in is charged as stated: quantity times unit cost, rounded once.",
        equation="amount = round(quantity x unit cost)",
        source="as stated",
    ),
    Rule(
        id="price.work-share",
        statement="Each cost line goes to the work that called for it: materials by the volume of "
        "the coats and fillings they are in, freight with its goods, labour and machines by the "
        "hours of their tasks, consumables by their stage of the work. What all work calls for "
        "(setting up, travel, protective equipment) follows in proportion, and so do contingency, "
        "overhead and gain. Base walls, cove, steps and curbs are verticals; of a coat, their "
        "part is that of their film. What is bought in stands apart, at its own cost. Sums are "
        "shared out in minor units, by largest remainder.",
        equation="cost = own cost x attributed / attributed in all; share = price by terms x cost "
        "/ direct cost",
        source=_PRACTICE,
    ),
    Rule(
        id="price.materials-of-sale",
        statement="Of the net price, what is for materials is in the ratio of what packs and "
        "consumables cost to the direct cost.",
        equation="round(net x materials / direct cost)",
        source=_PRACTICE,
    ),
    Rule(
        id="price.sale-tax",
        statement="Tax is taken once per category and rate on the sum of its lines, never per line; "
        "for a buyer who is exempt at a rate of zero, with the reason.",
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
        statement="The part of the net price that is for floor work (preparation and repairs with "
        "it), in the ratio of direct costs, by the coated floor, in square feet and in square "
        "metres.",
        equation="round(net x floor cost / direct cost / floor)",
        source=_PRACTICE,
    ),
    Rule(
        id="price.running",
        statement="The length of linear work is the run of base walls, coves, curbs and risers, "
        "and that of filled joints.",
        equation="running = upright + joints",
        source=_PRACTICE,
    ),
    Rule(
        id="price.per-running-length",
        statement="The part of the net price that is for linear work, in the ratio of direct "
        "costs, by its length, in feet and in metres.",
        equation="round(net x linear cost / direct cost / running)",
        source=_PRACTICE,
    ),
    Rule(
        id="price.option",
        statement="An option costs what the whole job costs with it less what it costs without any "
        "option, each found by the whole pipeline; that is its price whatever is chosen beside it.",
        equation="option = with option - without",
        source=_PRACTICE,
    ),
)
