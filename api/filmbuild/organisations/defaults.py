"""The service's own words for offers, used where an organisation has given none."""

from functools import cache
from importlib.resources import files

import msgspec

from filmbuild.organisations.profile import OrganisationTexts


@cache
def default_texts() -> dict[str, OrganisationTexts]:
    """By language."""
    source = files("filmbuild.organisations") / "default_texts.json"
    return msgspec.json.decode(source.read_bytes(), type=dict[str, OrganisationTexts])


def fallbacks(language: str) -> tuple[str, ...]:
    """The language, and without its region: es-MX may be served in es."""
    return tuple(dict.fromkeys((language, language.partition("-")[0])))
