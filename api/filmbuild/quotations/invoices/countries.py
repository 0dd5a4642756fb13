"""Country codes of ISO 3166-1, from the regions that CLDR names."""

import re
from functools import cache

from babel import Locale

_TWO_LETTERS = re.compile("[A-Z]{2}")
# regions of CLDR that ISO 3166-1 has not assigned, or only reserved: they name no country
_NO_COUNTRIES = frozenset(
    ("AC", "CP", "CQ", "DG", "EA", "EU", "EZ", "IC", "QO", "TA", "UN", "XA", "XB", "XK", "ZZ")
)
VAT_PREFIXES_BESIDE_COUNTRIES = frozenset(("EL", "XI"))
"""Greece (EN 16931 rule BR-CO-09), and Northern Ireland in trade with the European Union."""


@cache
def countries() -> frozenset[str]:
    regions = (str(one) for one in Locale("en").territories)
    return frozenset(one for one in regions if _TWO_LETTERS.fullmatch(one)) - _NO_COUNTRIES
