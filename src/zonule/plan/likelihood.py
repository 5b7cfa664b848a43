"""How the surgeon's own shares become the likelihood of each place of this plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence


def likelihoods(
    offered: Sequence[str], shares: Mapping[str, float], intended: str
) -> dict[str, float] | None:
    """Return the likelihood of each place, or None when no share was entered.

    The shares are the surgeon's own entry. What was entered for places that this plan does not
    offer is spread over the other backups in proportion; the intended place keeps what the
    backups leave. They exclude each other and sum to 1.

    Parameters
    ----------
    offered
        Places of this plan, the intended one among them.
    shares
        Share of cases that end in each place, 0 to 1.
    intended
        The intended place.

    Examples
    --------
    >>> shares = {"sulcus_capture": 0.04, "sulcus_three_piece": 0.02, "anterior_chamber": 0.02}
    >>> found = likelihoods(["bag", "sulcus_capture", "sulcus_three_piece"], shares, "bag")
    >>> {key: round(value, 3) for key, value in found.items()}
    {'bag': 0.92, 'sulcus_capture': 0.053, 'sulcus_three_piece': 0.027}
    >>> likelihoods(["bag"], {}, "bag") is None
    True
    """
    entered = {key: share for key, share in shares.items() if key != intended and share > 0.0}
    if not entered:
        return None
    backups = {key: entered.get(key, 0.0) for key in offered if key != intended}
    kept = sum(backups.values())
    if kept == 0.0:
        return None
    lost = min(sum(entered.values()), 1.0)
    found = {key: share / kept * lost for key, share in backups.items()}
    found[intended] = 1.0 - sum(found.values())
    return {key: found[key] for key in offered}
