"""A caveat is data: it must reach the screen, the paper and the note."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Caveat:
    """One thing a person must know beside a number.

    Parameters
    ----------
    name
        Slug, for instance ``spread_assumed``.
    says
        The sentence.
    source
        Key of its source.
    status
        How sure it is.
    stops
        ``signature`` where the plan must not be signed while it stands, else ``nothing``.
    """

    name: str
    says: str
    source: str = "own_derivation"
    status: str = "derived"
    stops: str = "nothing"
