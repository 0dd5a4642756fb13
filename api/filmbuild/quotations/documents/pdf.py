"""Documents for print: tagged PDF by typst, with the fonts that it brings along."""

from datetime import UTC, date, datetime, time
from functools import cache
from importlib.resources import files
from pathlib import Path

import msgspec
import typst

from filmbuild.quotations.content import Decision, QuotationContent, QuotationState
from filmbuild.quotations.documents.job_pack import JobPack
from filmbuild.quotations.documents.job_pack_view import pack_shown
from filmbuild.quotations.documents.offer_view import offer_shown
from filmbuild.quotations.documents.shown import Shown


def offer_pdf(content: QuotationContent, state: QuotationState, decision: Decision | None) -> bytes:
    """The same offer in the same state is always the same bytes."""
    return render("offer", offer_shown(content, state, decision), content.issued_on)


def job_pack_pdf(pack: JobPack, language: str) -> bytes:
    """Dated with its first day of work."""
    return render("job_pack", pack_shown(pack, language), pack.first_day)


def render(name: str, shown: Shown, day: date | None) -> bytes:
    """Texts go in as data, never as markup; the document is dated with `day`, not with today."""
    stamp = 0 if day is None else int(datetime.combine(day, time(), UTC).timestamp())
    made = typst.compile(
        str(_folder() / f"{name}.typ"),
        root=str(_folder()),
        font_paths=_fonts(),
        sys_inputs={"shown": msgspec.json.encode(shown).decode()},
        timestamp=stamp,
    )
    if not isinstance(made, bytes):
        raise TypeError(f"a PDF is one file, not {type(made).__name__}")
    return made


@cache
def _fonts() -> typst.Fonts:
    """Found once, not for every document; none of the system's."""
    return typst.Fonts(include_system_fonts=False)


@cache
def _folder() -> Path:
    return Path(str(files(__package__).joinpath("typst")))
