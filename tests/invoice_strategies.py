"""Accepted quotations of every shape, for laws about their invoices."""

from decimal import Decimal
from typing import Any

from hypothesis import strategies as st
from invoice_cases import accepted, line, offer, option, part, tax

from filmbuild.quotations.accepted import AcceptedQuotation

CATEGORIES = [
    ("S", "20"),
    ("S", "6.5"),
    ("S", "2.1"),
    ("Z", "0"),
    ("E", "0"),
    ("AE", "0"),
]
NETS = st.decimals(min_value=-9_999_999, max_value=9_999_999, places=2)
QUANTITIES = st.decimals(min_value="0.01", max_value=999_999, places=2)


@st.composite
def plans(draw: st.DrawFn) -> list[Any]:
    """Cuts of a hundred per cent."""
    cuts = draw(st.lists(st.integers(1, 9_999), max_size=5, unique=True))
    ends = [Decimal(cut) / 100 for cut in sorted(cuts)] + [Decimal(100)]
    starts = [Decimal(0), *ends]
    shares = [end - start for start, end in zip(starts, ends, strict=False)]
    if len(shares) == 1 and draw(st.booleans()):
        return []
    return [part(f"stage-{number}", str(share)) for number, share in enumerate(shares)]


@st.composite
def jobs(draw: st.DrawFn) -> AcceptedQuotation:
    """Several taxes, under one of which each line falls; charges, discounts, options, stages."""
    chosen = draw(st.lists(st.sampled_from(CATEGORIES), min_size=1, max_size=4, unique=True))
    taxes = [tax(*one, exemption_reason="demo") for one in chosen]

    def lines(most: int) -> list[Any]:
        return [
            line(str(net), draw(st.sampled_from(taxes)), quantity=str(quantity), unit="MTK")
            for net, quantity in draw(
                st.lists(st.tuples(NETS, QUANTITIES), min_size=1, max_size=most)
            )
        ]

    options = [option(name, *lines(2)) for name in draw(st.sets(st.sampled_from("xyz")))]
    ticked = [one.id for one in options if draw(st.booleans())]
    return accepted(offer(lines(6), taxes, draw(plans()), options), ticked)
