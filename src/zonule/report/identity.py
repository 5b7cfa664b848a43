"""The identity of a plan: what tells one plan from another, the same on page and paper."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any, Final

from zonule.plan.records import Plan
from zonule.report.plan_json import as_json

PREFIX: Final = "zonule-plan-1:"
"""What stands before the identity in a code on paper, so that a scanner knows what it reads."""
_SHOWN, _GROUP = 12, 4


def digest_of(told: Mapping[str, Any]) -> str:
    """Return SHA-256 over plain data as sorted-key UTF-8 JSON, as 64 hexadecimal characters.

    Examples
    --------
    >>> digest_of({"b": 1, "a": "−"}) == digest_of({"a": "−", "b": 1})
    True
    >>> len(digest_of({}))
    64
    """
    text = json.dumps(
        told, sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False
    )
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def plan_identity(plan: Plan) -> str:
    """Return the identity of a plan: 64 hexadecimal characters, made from all that it says."""
    return digest_of(as_json(plan))


def as_shown(identity: str) -> str:
    """Return the part of an identity that is read by people, in groups of four.

    Examples
    --------
    >>> as_shown("0123456789abcdef" * 4)
    '0123 4567 89ab'
    """
    return " ".join(identity[at : at + _GROUP] for at in range(0, _SHOWN, _GROUP))


def as_scanned(identity: str) -> str:
    """Return what the code on paper holds: the whole identity, and nothing about the patient.

    Examples
    --------
    >>> as_scanned("0123456789abcdef" * 4)[:30]
    'zonule-plan-1:0123456789abcdef'
    """
    return f"{PREFIX}{identity}"
