"""What a document says, in words and figures ready to be set: the same for pages and for print."""

import msgspec


class Shown(msgspec.Struct, frozen=True, kw_only=True):
    """Base of what is shown."""


class Fact(Shown, frozen=True, kw_only=True):
    label: str
    value: str


class Block(Shown, frozen=True, kw_only=True):
    """Paragraphs under a title; as a list where there are several of one kind."""

    id: str
    title: str
    paragraphs: tuple[str, ...]


class LineShown(Shown, frozen=True, kw_only=True):
    """`measure` is how much of it at what price, where that says more than the net alone."""

    description: str
    measure: str
    net: str


class TaxShown(Shown, frozen=True, kw_only=True):
    name: str
    reason: str
    amount: str


class OptionShown(Shown, frozen=True, kw_only=True):
    """`adds` is what the total grows by, taxes and all; `net` is without them."""

    id: str
    label: str
    description: str
    net: str
    adds: str
    chosen: bool


class PaymentShown(Shown, frozen=True, kw_only=True):
    label: str
    when: str
    net: str
    tax: str
    total: str


class AreaShown(Shown, frozen=True, kw_only=True):
    name: str
    floor: str
    verticals: str
    running: str


class Figure(Shown, frozen=True, kw_only=True):
    """`svg` is a whole document whose ids begin with a prefix of its own."""

    title: str
    svg: str
    width: float
    height: float


class Sums(Shown, frozen=True, kw_only=True):
    lines: tuple[LineShown, ...]
    net: str
    taxes: tuple[TaxShown, ...]
    total: str


class ChoiceShown(Shown, frozen=True, kw_only=True):
    """One of the alternates."""

    id: str
    key: str
    label: str
    heading: str
    system: str
    gains: tuple[str, ...]
    layers: tuple[str, ...]
    areas: tuple[AreaShown, ...]
    rates: tuple[Fact, ...]
    sums: Sums
    options: tuple[OptionShown, ...]
    payments: tuple[PaymentShown, ...]
    dates: tuple[Fact, ...]
    figures: tuple[Figure, ...]
    chosen: bool


class CautionShown(Shown, frozen=True, kw_only=True):
    title: str
    detail: str
    source: str
    applies_to: str


class Sender(Shown, frozen=True, kw_only=True):
    """A party: its name, and the lines of its address, contact and numbers."""

    name: str
    lines: tuple[str, ...]


class Banner(Shown, frozen=True, kw_only=True):
    """What has become of the offer; `tone` chooses how it looks, never what it means."""

    tone: str
    title: str
    lines: tuple[str, ...]


class OfferShown(Shown, frozen=True, kw_only=True):
    language: str
    title: str
    kind: str
    mark: str
    seller: Sender
    buyer: Sender
    facts: tuple[Fact, ...]
    banner: Banner | None
    introduction: tuple[str, ...]
    choices: tuple[ChoiceShown, ...]
    blocks: tuple[Block, ...]
    cautions: tuple[CautionShown, ...]
    labels: dict[str, str]
    paper: str


class ConfirmationShown(Shown, frozen=True, kw_only=True):
    """What a customer is about to accept; `amount` is the total as the form sends it."""

    title: str
    facts: tuple[Fact, ...]
    sums: Sums
    payments: tuple[PaymentShown, ...]
    sentence: str
    name: str
    alternate: str
    options: tuple[str, ...]
    amount: str
    link: str
