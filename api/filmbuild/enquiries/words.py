"""What visitors are told is wrong, in their language."""

from typing import Literal

import msgspec

from filmbuild.errors import Fault, Faults, InvalidInput

Told = Literal["en", "es"]
NOT_VALID = {"en": "The request is not valid.", "es": "La solicitud no es válida."}
OWN: dict[str, dict[Told, str]] = {
    "unknown-finish": {
        "en": "this finish is not offered; accepted: {accepted}",
        "es": "este acabado no se ofrece; se acepta: {accepted}",
    },
    "out-of-range": {
        "en": "accepted: {low} to {high}",
        "es": "se acepta: de {low} a {high}",
    },
    "outline-crosses-itself": {
        "en": "the outline crosses or touches itself; give its corners in order round the room",
        "es": "el contorno se cruza o se toca; dé las esquinas en orden alrededor de la sala",
    },
    "language-not-offered": {
        "en": "the form has no words in this language; accepted: {accepted}",
        "es": "el formulario no está en este idioma; se acepta: {accepted}",
    },
    "contact-missing": {
        "en": "give an e-mail address or a telephone number, or nobody can answer",
        "es": "dé un correo electrónico o un teléfono, o nadie podrá responderle",
    },
    "invalid-email": {
        "en": "accepted: an e-mail address such as name@place.example",
        "es": "se acepta: un correo electrónico como nombre@lugar.example",
    },
    "consent-needed": {
        "en": "an enquiry is only kept if you agree to it",
        "es": "la consulta solo se guarda si usted lo acepta",
    },
    "consent-changed": {
        "en": "the words to agree to have changed; read them once more",
        "es": "el texto que se acepta ha cambiado; léalo de nuevo",
    },
    "invalid-proof": {
        "en": "accepted: the solution of a challenge of /v1/quote-form/challenge",
        "es": "se acepta: la solución de un reto de /v1/quote-form/challenge",
    },
    "expired-proof": {
        "en": "the challenge has ended; solve a new one",
        "es": "el reto ha caducado; resuelva uno nuevo",
    },
    "used-proof": {
        "en": "the solution was used before; solve a new challenge",
        "es": "la solución ya se usó; resuelva un reto nuevo",
    },
    "not-priceable": {
        "en": "this floor cannot be priced by the form; send it as an enquiry, and it is looked at",
        "es": "el formulario no puede calcular este piso; envíelo como consulta y lo revisaremos",
    },
}
_SPANISH: dict[str, str] = {
    "missing-field": "falta este dato",
    "unknown-field": "este dato no se conoce aquí",
    "duplicate-field": "este dato está dos veces",
    "wrong-type": "este dato no es del tipo esperado",
    "not-one-of": "este valor no está entre los aceptados",
    "missing-unit": 'falta la unidad; se acepta: "4.5 m" o "12 ft 6 in"',
    "unknown-unit": 'la unidad no se conoce; se acepta: "4.5 m" o "12 ft 6 in"',
    "wrong-dimension": 'se acepta una longitud: "4.5 m" o "12 ft 6 in"',
    "not-a-quantity": 'se acepta una longitud: "4.5 m" o "12 ft 6 in"',
    "decimal-comma": "escriba los decimales con punto",
    "not-positive": "debe ser más que cero",
    "not-finite": "no es un número que se pueda usar",
    "too-large": "es demasiado grande",
    "too-small": "es demasiado pequeño",
    "too-long": "es demasiado largo",
    "too-short": "es demasiado corto",
    "too-few-items": "la lista tiene muy pocos elementos",
    "too-many-items": "la lista tiene demasiados elementos",
    "wrong-pattern": "no tiene la forma esperada",
    "invalid-value": "este valor no se acepta",
}
_ANY_OTHER = "este valor no se acepta"


class _Question(msgspec.Struct):
    language: str | None = None


class _Body(msgspec.Struct):
    language: str | None = None
    question: _Question | None = None


_BODY = msgspec.json.Decoder(_Body)


def language_of(content: bytes, accepted: str) -> Told:
    """The body's, where it says one; else the first that `accepted`, an Accept-Language, names."""
    try:
        body = _BODY.decode(content)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        body = _Body()
    said = (body.question and body.question.language) or body.language or accepted.strip()[:2]
    return "es" if said.lower() == "es" else "en"


def add(faults: Faults, language: Told, code: str, *tokens: str | int, **values: object) -> None:
    faults.add(code, OWN[code][language].format(**values), *tokens)


def raise_if_any(faults: Faults, language: Told) -> None:
    faults.raise_if_any(NOT_VALID[language])


def translated(error: InvalidInput, language: Told) -> InvalidInput:
    """What the reading of the body found, which it tells in English."""
    if language == "en":
        return error
    faults = (
        Fault(one.pointer, one.code, _SPANISH.get(one.code, _ANY_OTHER)) for one in error.faults
    )
    return InvalidInput(NOT_VALID[language], tuple(faults))
