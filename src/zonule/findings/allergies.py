"""Which allergies a rule can hear in what was written, and which entries nobody can place."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from zonule.findings.answers import Answer
from zonule.library.reading import table


@cache
def _words() -> Mapping[str, str]:
    """Return every spelling with the word that rules use."""
    rows = table("allergies")["word"]
    spelled = {one: word for word, others in rows.items() for one in (word, *others)}
    return MappingProxyType({_plain(one): word for one, word in spelled.items()})


def _plain(text: str) -> str:
    return " ".join(text.lower().replace("_", " ").split())


def is_allergic_to(word: str, answer: Answer) -> bool | None:
    """Tell whether an allergy is among those written; None while an entry cannot be placed.

    Examples
    --------
    >>> is_allergic_to("iodine", ("Povidone-iodine",)), is_allergic_to("latex", ("none_known",))
    (True, False)
    >>> is_allergic_to("penicillin_anaphylaxis", ("Penicillin",)) is None
    True
    >>> is_allergic_to("latex", ()) is None
    True
    """
    if not isinstance(answer, tuple) or not answer:
        return None
    heard = [_words().get(_plain(one)) for one in answer]
    if word in heard:
        return True
    return None if None in heard else False


def not_placed(answer: Answer) -> tuple[str, ...]:
    """Return the entries that no rule can place."""
    if not isinstance(answer, tuple):
        return ()
    return tuple(one for one in answer if _plain(one) not in _words())
