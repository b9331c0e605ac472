"""The table for the owner's own readings, with ours as its first line."""

from __future__ import annotations

import re

from core.catalogue import load
from core.papers.care_sheet import Readings
from core.practice.care_rows import CareRows
from core.practice.names import name
from core.records import read
from core.records.tables import Reading, System
from core.units import show

USUAL = ("temperature", "ph", "ammonia", "nitrite", "kh")
"""What an owner can read with a thermometer and a kit (common practice, no source)."""
OURS = ("here", "outlet")
NUMBER = re.compile(r"[<>]?\s*[\d.,]+")
HEADS = {"temperature": "Temp.", "kh": "KH"}
"""Shorter than the catalogue says it, to leave room to write."""


def readings(rows: CareRows) -> Readings:
    """Return the table: the water that is treated, or else that of the visit."""
    treated = {t.system for t in rows.in_water()}
    about = rows.about()
    system = next((s for s in about if s.id in treated), rows.visit.opened.system)
    columns = tuple(_column(rows, system, key) for key in (*USUAL, *_more(rows)))
    heads, ours = zip(*columns, strict=True)
    water = system.name if len(about) > 1 else ""
    return Readings((*heads, "Food, g", "Dead"), (*ours, "", ""), water)


def _more(rows: CareRows) -> tuple[str, ...]:
    """Return what this visit gives the owner to read besides."""
    names = {name("medicine", t.medicine) for t in rows.in_water()}
    return ("copper",) if any("copper" in one for one in names) else ()


def _column(rows: CareRows, system: System, key: str) -> tuple[str, str]:
    """Return what heads a column, with the unit to write in, and what we read."""
    label = HEADS.get(key, name("analyte", key).split(",")[0])
    found = [
        row
        for row in read.find(Reading, visit=rows.visit.id, system=system.id, analyte=key)
        if row.place in OURS
    ]
    if not found:
        return label, ""
    row = found[-1]
    if key == "temperature":
        value, _, unit = show(row.value, "temperature", rows.units).partition(" ")
        return f"{label} {unit}", value
    number = NUMBER.match(row.typed)
    return _headed(label, row), number[0] if number else row.typed


def _headed(label: str, row: Reading) -> str:
    """Return a label with the unit that was read in: the one typed, or else the usual one."""
    usual = load.table("analytes")[row.analyte]["units"][0]
    said = NUMBER.sub("", row.typed).strip() or row.unit or usual
    basis = f"as {row.basis}" if row.basis else ""
    return " ".join(part for part in (label, said, basis) if part)
