"""The chain of signed records: each signature carries the hash of the one before it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from core.practice.keep import Act
from core.records import read
from core.records.altered import altered, named
from core.records.engine import query
from core.records.journal import this_device
from core.records.keys import new_key
from core.records.read import stored
from core.records.signed import Held, hash_of, record_hash, rows_of, schema_of
from core.records.tables import Signature, Visit

CHAINED_SINCE = 2
"""The schema number from which every signed record stands in a chain."""
SHORT = 12
"""Characters of a hash that are shown."""

_LAST = 'SELECT "count", "chain" FROM "signature" WHERE "device" = ? ORDER BY "count" DESC LIMIT 1'
_SIGNED = """
SELECT "id" FROM "visit" WHERE "signed_at" IS NOT NULL OR "sign_hash" IS NOT NULL
UNION SELECT "visit" FROM "signature"
UNION SELECT "row" FROM "edit_line" WHERE "in_table" = 'visit' AND "change" LIKE '%"sign_hash"%'
ORDER BY 1
"""
_ADDED = 'SELECT "row" FROM "edit_line" WHERE "in_table" = \'signature\' AND "act" = \'add\''


@dataclass(frozen=True)
class Link:
    """Where a signed record stands in the chain of its device."""

    count: int
    device: str
    """The last characters of the device's id."""
    short: str
    """The first characters of the chain's hash."""

    @property
    def words(self) -> str:
        """The place in the chain, as papers and the Sign stage say it."""
        return f"{self.short}, record {self.count} signed on device {self.device}"


def link(visit_id: str) -> Link | None:
    """Return a visit's place in the chain; None when it is not signed, or was before chains."""
    row = read.first(Signature, visit=visit_id)
    return None if row is None else Link(row.count, _short(row.device), row.chain[:SHORT])


def _short(device: object) -> str:
    return str(device)[-8:]


def next_link(act: Act, visit_id: str, record: str) -> Signature:
    """Return the signature that follows on the last one of this device; `sign.sign` adds it.

    Parameters
    ----------
    record : str
        Hash of the record that is being signed.
    """
    device = this_device()
    count, before = next(iter(query(_LAST, (device,))), (0, ""))
    row = Signature(
        id=new_key(),
        visit=visit_id,
        device=device,
        count=count + 1,
        record_hash=record,
        before=before,
        chain="",
        by=act.by,
        at=act.at,
    )
    return replace(row, chain=chain_hash(stored(row)))


def chain_hash(held: Held) -> str:
    """Return the hash of a signature: all that it says, the hash before it included."""
    return hash_of({k: v for k, v in held.items() if k not in ("chain", "struck")})


def check() -> list[str]:
    """Return what is wrong with signed records and their chain, a sentence each; none when whole.

    Each says which visit, table, row and column, or which link of which device's chain.
    """
    return [words for _, words in faults()]


def faults() -> list[tuple[str, str]]:
    """Return the visit that each fault of `check` is about, "" for none, and its sentence."""
    links = sorted(rows_of(Signature), key=lambda row: (str(row["device"]), int(row["count"])))
    by_visit = defaultdict(list)
    for row in links:
        by_visit[row["visit"]].append(row)
    found = [*_chains(links), *_gone(links)]
    for (visit_id,) in query(_SIGNED):
        found += [(visit_id, words) for words in _of_visit(visit_id, by_visit[visit_id])]
    return found


def _chains(links: list[Held]) -> Iterator[tuple[str, str]]:
    for device, rows in groupby(links, lambda row: row["device"]):
        count, before = 0, ""
        for row in rows:
            for words in _link(row, count, before):
                where = f"Chain of signed records of device {_short(device)}, link {row['count']}"
                yield str(row["visit"]), f"{where}: {words}."
            count, before = row["count"], row["chain"]


def _link(row: Held, count: int, before: str) -> Iterator[str]:
    if row["count"] != count + 1:
        yield f"link {count + 1} is missing before it"
    elif row["before"] != before:
        yield "it does not follow on the link before it"
    if row["chain"] != chain_hash(row):
        yield f"the link itself was changed ({named(row['visit'])})"
    if row["struck"] is not None:
        yield "it was struck, which a signature never is"


def _gone(links: list[Held]) -> Iterator[tuple[str, str]]:
    here = {row["id"] for row in links}
    for (row,) in query(_ADDED):
        if row not in here:
            words = f"Chain of signed records: signature {row}, which the journal has, is gone."
            yield "", words


def _of_visit(visit_id: str, links: list[Held]) -> Iterator[str]:
    where = named(visit_id)
    found = rows_of(Visit, id=visit_id)
    if not found:
        yield f"{where}: the visit itself ({visit_id}) is gone."
        return
    visit, schema = found[0], schema_of(visit_id)
    if not links and schema >= CHAINED_SINCE:
        yield f"{where}: it was signed, and no signature for it stands in the chain."
    if len(links) > 1:
        yield f"{where}: {len(links)} signatures stand for it."
    signed = {visit["sign_hash"]}
    for row in links:
        signed.add(row["record_hash"])
        link = f"{where} (link {row['count']} of device {_short(row['device'])})"
        yield from (f"{link}: {words}." for words in _unlike(visit, row))
        where = link
    if visit["state"] != "signed" or visit["signed_at"] is None:
        yield f"{where}: it was signed, and the visit says it is not."
    if signed != {record_hash(visit_id, schema)}:
        yield from (f"{where}: {words}." for words in altered(visit_id, schema))


def _unlike(visit: Held, link: Held) -> Iterator[str]:
    for mine, theirs in (("signed_by", "by"), ("signed_at", "at"), ("sign_hash", "record_hash")):
        if visit[mine] != link[theirs]:
            yield f"visit, {mine}: it holds {visit[mine]}, the signature says {link[theirs]}"
