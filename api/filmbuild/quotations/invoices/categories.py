"""Categories of value added tax (UNTDID 5305) as EN 16931 uses them, and what each asks for."""

from types import MappingProxyType

import msgspec


class VatCategory(msgspec.Struct, frozen=True, kw_only=True):
    """What the rules BR-S, BR-Z, BR-E, BR-AE, BR-IC, BR-G, BR-O, BR-AF and BR-AG of EN 16931 say.

    `rate` is "positive", "zero", "any" or "none". `reason` and its `code` of the VATEX list are
    what an exemption is put down to where the tax rule gives no reason of its own.
    """

    code: str
    name: str
    rate: str
    exempt: bool = False
    reason: str | None = None
    reason_code: str | None = None


_CATEGORIES = (
    VatCategory(code="S", name="standard rate", rate="positive"),
    VatCategory(code="Z", name="zero rate", rate="zero"),
    VatCategory(code="E", name="exempt", rate="zero", exempt=True),
    VatCategory(
        code="AE",
        name="reverse charge",
        rate="zero",
        exempt=True,
        reason="Reverse charge",
        reason_code="VATEX-EU-AE",
    ),
    VatCategory(
        code="K",
        name="intra-community supply",
        rate="zero",
        exempt=True,
        reason="Intra-community supply",
        reason_code="VATEX-EU-IC",
    ),
    VatCategory(
        code="G",
        name="export",
        rate="zero",
        exempt=True,
        reason="Export outside the EU",
        reason_code="VATEX-EU-G",
    ),
    VatCategory(
        code="O",
        name="outside the scope of the tax",
        rate="none",
        exempt=True,
        reason="Not subject to VAT",
        reason_code="VATEX-EU-O",
    ),
    VatCategory(code="L", name="Canary Islands general indirect tax", rate="any"),
    VatCategory(code="M", name="tax of Ceuta and Melilla", rate="any"),
)
VAT_CATEGORIES = MappingProxyType({one.code: one for one in _CATEGORIES})
OUTSIDE = "O"
REVERSE_CHARGE = "AE"
INTRA_COMMUNITY = "K"
EXPORT = "G"
EXEMPT = "E"
