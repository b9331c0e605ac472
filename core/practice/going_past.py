"""What stops, cautions and notes ask of the vet, and how going past them stands in the record.

A stop is gone past only with a reason in a sentence, a caution with any reason, and both are kept;
a note asks nothing. What the law forbids in food fish is refused whatever the reason.
"""

from __future__ import annotations

from collections.abc import Sequence

from core.errors import Refusal

SENTENCE = 3
"""Words that the reason for going past a stop has at least (common practice, no source)."""


def must_have(stops: Sequence[str], cautions: Sequence[str], reason: str) -> None:
    """Refuse to go on without the reason that is asked for.

    Raises
    ------
    Refusal
        For a stop without a reason in a sentence, a caution without a reason.
    """
    if stops and len(reason.split()) < SENTENCE:
        raise Refusal(
            f"STOP. This needs a reason that is kept: {' '.join((*stops, *cautions))}",
            f"Type in a sentence, {SENTENCE} words or more, why it is given all the same.",
        )
    if cautions and not reason.strip():
        raise Refusal(
            f"This needs a reason that is kept: {' '.join(cautions)}", "Type why it is given."
        )


def asked(stops: Sequence[str], cautions: Sequence[str]) -> tuple[str, ...]:
    """Return stops and cautions in words that differ, with what each asks."""
    return (
        *(f"STOP. Needs a reason in a sentence: {s}" for s in stops),
        *(f"Caution. Needs a reason: {s}" for s in cautions),
    )


def kept(reason: str, stops: Sequence[str], cautions: Sequence[str]) -> str:
    """Return a reason as it is kept, with what it goes past.

    Examples
    --------
    >>> kept("two fish tried it first", ("oxygen",), ("dose",))
    'two fish tried it first (STOP gone past: oxygen; gone past: dose)'
    """
    said = reason.strip()
    parts = [f"STOP gone past: {', '.join(stops)}"] if stops else []
    parts += [f"gone past: {', '.join(cautions)}"] if cautions else []
    return f"{said} ({'; '.join(parts)})" if said and parts else said
