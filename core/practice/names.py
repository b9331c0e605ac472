"""What keys of the catalogue are called, for screens and papers."""

from __future__ import annotations

from core.catalogue import load
from core.practice import own_rows

_WHERE = {
    "organism": ("organisms", "organism", "name"),
    "finding": ("organisms", "organism", "name"),
    "stain": ("stains", "stain", "name"),
    "tissue": ("tissues", "tissue", "name"),
    "lesion": ("lesions", "lesion", "name"),
    "place": ("lesions", "place", "name"),
    "problem": ("problems", "problem", "name"),
    "sign": ("signs", "sign", "label"),
    "walk": ("signs", "walk", "label"),
    "question": ("questions", "question", "label"),
    "medicine": ("medicines", "", "name"),
    "product": ("products", "", "name"),
    "species": ("species", "", "common"),
    "analyte": ("analytes", "", "label"),
    "kind": ("system_kinds", "", "name"),
    "visit type": ("visit_types", "visit_type", "name"),
    "food": ("foods", "", "name"),
    "rank": ("ranks", "rank", "name"),
}


def name(what: str, key: str) -> str:
    """Return what a key is called; a key that is not in the catalogue is the practice's own.

    Examples
    --------
    >>> name("tissue", "gill"), name("problem", "in own words")
    ('Gill snip', 'in own words')
    """
    table, section, column = _WHERE[what]
    rows = load.table(table)
    row = (rows[section] if section else rows).get(key)
    if isinstance(row, dict):
        return str(row.get(column, key))
    return own_rows.named(key) if what in ("medicine", "product") else key
