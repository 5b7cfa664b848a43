"""Takes a sentence apart at its numbers, so that each of them leads to its why."""

from __future__ import annotations

from zonule.report.plan_view.records import Phrase, Shown


def phrase(sentence: str, *numbers: tuple[str, str]) -> Phrase:
    """Return a sentence in pieces.

    Parameters
    ----------
    sentence
        As it is said.
    numbers
        Texts in the order in which they stand in the sentence, each with the path of its why.

    Raises
    ------
    ValueError
        If a text does not stand in the sentence after the one before it.

    Examples
    --------
    >>> [(one.text, one.why) for one in phrase("Aim −0.25 D, far.", ("−0.25 D", "eye.aim_d"))]
    [('Aim ', ''), ('−0.25 D', 'eye.aim_d'), (', far.', '')]
    """
    pieces: list[Shown] = []
    end = 0
    for text, path in numbers:
        at = sentence.index(text, end)
        pieces += [Shown(sentence[end:at])] if at > end else []
        pieces.append(Shown(text, path))
        end = at + len(text)
    return (*pieces, Shown(sentence[end:])) if end < len(sentence) else tuple(pieces)


def as_text(pieces: Phrase) -> str:
    """Return a sentence in pieces as one text.

    Examples
    --------
    >>> as_text(phrase("Aim −0.25 D.", ("−0.25 D", "eye.aim_d")))
    'Aim −0.25 D.'
    """
    return "".join(piece.text for piece in pieces)
