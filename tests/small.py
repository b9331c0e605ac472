"""A small invented practice for tests, made through `core.practice` only."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from core import clock
from core.practice import setup, visits
from core.practice.desk import Desk
from core.practice.keep import Act
from core.records.place import Place

ZONE = "Etc/UTC"
VET = "Vera Test"


@dataclass(frozen=True)
class Small:
    """Ids of what was made."""

    vet: str
    technician: str
    client: str
    site: str
    system: str
    group: str
    visit: str


def fill(act: Act, day: date) -> Small:
    """Make the practice in the open records, with one visit on a day."""
    setup.make_practice(
        act,
        name="Practice of the Tests",
        address="1 Invented Lane",
        phone="000",
        currency="EUR",
        zone=ZONE,
        invented=True,
    )
    vet = setup.add_person(act, VET, "veterinarian", "L-1")
    technician = setup.add_person(act, "Tim Test", "technician")
    client = setup.add_client(act, "Clara Test", phone="555 0100")
    site = setup.add_site(act, client, "home", address="2 Invented Lane")
    system = setup.add_system(act, site, "koi pond", "koi_pond", volume_l=9000.0)
    group = setup.add_group(act, system, "koi", "koi", count=12)
    visit = visits.book(act, system, day, "10:30", vet, "test visit")
    return Small(vet, technician, client, site, system, group, visit)


def build(file: Path | Place) -> Small:
    """Make the practice in a file of its own with a visit today, and close it again."""
    desk = Desk(file)
    try:
        return desk.save(fill, Act("setup", clock.now()), clock.today(ZONE)).result(timeout=30)
    finally:
        desk.close()
