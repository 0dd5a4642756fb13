"""The words of the documents, as data: one file for each language.

`labels` are what the documents themselves say. `phrases` turn sentences of the pipeline, which are
in English, into the language: each is a pair of patterns in which `{name}` stands for any words, and `{figure}` for a number with its unit.
"""

import re
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib.resources import files

import msgspec

DEFAULT = "en"
_HOLE = re.compile(r"\\\{(\w+)\\\}")
# names of areas may begin with the same words, but seldom go on with a length or an area
_FIGURE = r"(?P<figure>[\d.,]+ (?:ft|in|m|cm|mm)(?![a-z]).*)"


class Phrase(msgspec.Struct, frozen=True):
    """An English pattern, and what stands for it in the language."""

    english: str
    said: str


class _File(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    labels: dict[str, str]
    phrases: tuple[tuple[str, str], ...] = ()


class Language(msgspec.Struct, frozen=True):
    """`code` is the language that the labels are in, which may not be the one asked for."""

    code: str
    labels: Mapping[str, str]
    phrases: tuple[Phrase, ...]

    def __getitem__(self, key: str) -> str:
        return self.labels[key]

    def counted(self, key: str, count: int) -> str:
        """The label for one or for several, with the count filled in."""
        return self.labels[f"{key}_{'one' if count == 1 else 'several'}"].format(count=count)

    def said(self, english: str) -> str:
        """A sentence of the pipeline in this language; as it is where no pattern fits."""
        return _said(self.code, english) if self.phrases else english


def available() -> tuple[str, ...]:
    names = (one.name for one in files(__package__).joinpath("wording").iterdir())
    return tuple(sorted(name.removesuffix(".json") for name in names if name.endswith(".json")))


def language_of(tag: str) -> Language:
    """That of a tag such as "es" or "es-MX", else English."""
    base = tag.partition("-")[0].lower()
    return read(base if base in available() else DEFAULT)


@cache
def read(code: str) -> Language:
    text = files(__package__).joinpath("wording", f"{code}.json").read_bytes()
    found = msgspec.json.decode(text, type=_File)
    return Language(code, found.labels, tuple(Phrase(*pair) for pair in found.phrases))


@cache
def _compiled(code: str) -> tuple[dict[str, str], tuple[tuple[re.Pattern[str], str], ...]]:
    """Sentences without holes by their words, and patterns for the others."""
    whole: dict[str, str] = {}
    patterns = []
    for one in read(code).phrases:
        if "{" in one.english:
            pattern = re.escape(one.english).replace(r"\{figure\}", _FIGURE)
            pattern = _HOLE.sub(r"(?P<\1>.+?)", pattern)
            patterns.append((re.compile(pattern, re.DOTALL), one.said))
        else:
            whole[one.english] = one.said
    return whole, tuple(patterns)


@lru_cache(maxsize=4096)
def _said(code: str, english: str) -> str:
    """What fills a hole may itself be a sentence of the pipeline."""
    whole, patterns = _compiled(code)
    if english in whole:
        return whole[english]
    for pattern, said in patterns:
        match = pattern.fullmatch(english)
        if match is not None:
            filled = {name: _said(code, words) for name, words in match.groupdict().items()}
            return said.format(**filled)
    return english
