"""Documents as pages: HTML with its own style sheet and no scripts, to read and to print."""

from base64 import b64encode
from collections.abc import Mapping, Sequence
from functools import cache
from hashlib import sha256

from jinja2 import Environment, PackageLoader, StrictUndefined

from filmbuild.errors import Fault, InvalidInput
from filmbuild.estimates.sheets import Page
from filmbuild.pipeline.offering import with_options
from filmbuild.quotations.content import Alternate, Decision, QuotationContent, QuotationState
from filmbuild.quotations.documents.job_pack import JobPack
from filmbuild.quotations.documents.job_pack_view import pack_shown
from filmbuild.quotations.documents.offer_view import offer_shown, payments, sums
from filmbuild.quotations.documents.shown import ConfirmationShown, Fact
from filmbuild.quotations.documents.writer import writer_of


def offer_page(
    content: QuotationContent,
    state: QuotationState,
    decision: Decision | None,
    *,
    link: str | None = None,
) -> Page:
    """The quotation, and a form to decide on it where it is issued and a link is given.

    `link` is the path of the customer's own link. The forms post `name`, `alternate` and `options`
    to its `/acceptance`, and `name` and `reason` to its `/decline`.
    """
    shown = offer_shown(content, state, decision)
    open_link = link if state == "issued" else None
    return page(
        "offer.html",
        language=shown.language,
        heading=f"{shown.title}: {content.site}",
        labels=shown.labels,
        posts=open_link is not None,
        shown=shown,
        link=open_link,
    )


def confirmation_page(
    content: QuotationContent,
    alternate: str | None,
    options: Sequence[str],
    name: str,
    *,
    link: str,
) -> Page:
    """What accepting comes to: the form posts the same fields with the exact `total`.

    That is an amount and its currency, such as "1234.50 USD". `alternate` may be missing where there
    is one alone. Raises InvalidInput for an alternate or an option that the quotation does not have.
    """
    writer = writer_of(content.language, content.time_zone)
    label = writer.language
    one = _alternate(content, alternate)
    offer = with_options(one.offer, options)
    title = f"{label[content.kind]} {content.number or ''}".strip()
    total = writer.money(offer.total)
    shown = ConfirmationShown(
        title=title,
        facts=tuple(
            Fact(label=key, value=value)
            for key, value in (
                (label["site"], content.site),
                (label["choice"], one.label),
                (label["name"], name),
            )
        ),
        sums=sums(one, options, writer),
        payments=payments(offer, writer),
        sentence=label["confirm_sentence"].format(name=name, title=title, total=total),
        name=name,
        alternate=one.id,
        options=tuple(options),
        amount=f"{offer.total.amount} {offer.total.currency}",
        link=link,
    )
    return page(
        "confirmation.html",
        language=writer.tag,
        heading=f"{label['confirm_title']}: {title}",
        labels=label.labels,
        posts=True,
        shown=shown,
    )


def _alternate(content: QuotationContent, wanted: str | None) -> Alternate:
    known = {one.id: one for one in content.alternates}
    if wanted is None and len(known) == 1:
        return content.alternates[0]
    if wanted in known:
        return known[wanted]
    code, detail = ("missing", "choose one") if wanted is None else ("unknown", "there is no such")
    fault = Fault("/alternate", code, f"{detail} of {', '.join(known)}")
    raise InvalidInput("The request is not valid.", (fault,))


def job_pack_page(pack: JobPack, language: str) -> Page:
    """Without prices, for the crew."""
    shown = pack_shown(pack, language)
    return page(
        "job_pack.html",
        language=shown.language,
        heading=shown.title,
        labels=shown.labels,
        shown=shown,
    )


def page(
    template: str,
    *,
    language: str,
    heading: str,
    labels: Mapping[str, str],
    posts: bool = False,
    **more: object,
) -> Page:
    """`posts` allows forms to send to the service itself, and to nobody else."""
    style = _style()
    text = (
        _templates()
        .get_template(template)
        .render(language=language, heading=heading, style=style, t=labels, **more)
    )
    digest = b64encode(sha256(style.encode()).digest()).decode()
    forms = "'self'" if posts else "'none'"
    policy = (
        f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; "
        f"frame-ancestors 'none'; form-action {forms}"
    )
    return Page(text, policy)


@cache
def _style() -> str:
    return _templates().get_template("document.css").render()


@cache
def _templates() -> Environment:
    loader = PackageLoader("filmbuild", "quotations/documents/templates")
    found = Environment(autoescape=True, loader=loader, undefined=StrictUndefined)
    found.filters["loose"] = _loose
    return found


def _loose(text: str) -> str:
    """An amount that may be broken before its currency, for columns as narrow as on a phone."""
    return text.replace("\u00a0", " ")
