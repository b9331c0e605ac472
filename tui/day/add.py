"""An unplanned visit, from part of a name to the book in a few keys."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from core.catalogue import load
from core.practice import booking, bookings, duplicates
from core.practice.bookings import Asked, Newcomer
from core.practice.duplicates import Likely
from core.practice.visits import Choices, Water
from tui.widgets.booking_dialog import STARTS, BookingDialog, vet_row
from tui.widgets.dialog import Answers
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Shown

NEW = "new"
QUARTER = 15
WHO = ("name", "phone", "address")
"""What a new client may have in common with one in the records."""
SAME = Field("same", "Take that one", "act", hint="enter")
NEW_CLIENT = Choice("", NEW, "new client")
NEW_ENTRY = Entry(NEW_CLIENT.label, NEW)
NEW_WATER = Choice("", NEW, "another water")


class AddVisit(BookingDialog):
    """Asks for the client, the water, why and when; what is usual stands there already.

    Parameters
    ----------
    day : date
        The day it is added to.
    known : Choices
        Clients, waters and vets.
    worker : str
        Id of who is at work, who goes when it is a vet.
    now : datetime
        Wall time at the practice, aware.
    """

    def __init__(self, day: date, known: Choices, worker: str, now: datetime) -> None:
        self.day = day
        self.known = known
        self.likely: tuple[Likely, ...] = ()
        """Clients in the records who may be the new one."""
        self._said_at = ""
        """The row under which it is offered to take the first of them."""
        super().__init__(f"Add a visit on {day:%a} {day.day} {day:%b}", self._usual(worker, now))

    def _usual(self, worker: str, now: datetime) -> Answers:
        vets = dict(self.known.vets)
        vet = worker if worker in vets else next(iter(vets), "")
        kind = booking.kinds()[0]
        usual = {
            "kind": Entry(kind.name, kind.key),
            "vet": Entry(vets.get(vet, ""), vet),
            "rank": Entry(_ranks()[2].label, "3"),
        }
        if now.date() == self.day:
            starts = rounded(now)
            usual["starts"] = Entry(starts, starts)
        if not self.known.clients:
            usual["client"] = Entry(NEW_CLIENT.label, NEW)
        return usual

    def rows(self, answers: Answers) -> Sequence[Field]:
        rows = []
        if self.known.clients:
            people = (Choice("", key, name) for key, name in self.known.clients)
            picks = (*people, NEW_CLIENT)
            rows.append(replace(_CLIENT, choices=picks))
        rows += self._where(answers)
        rows += [
            Field("reason", "Why", example="gasping since this morning", required=True),
            STARTS,
            Field("kind", "Kind of visit", "choice", choices=_kinds(), required=True),
            Field("rank", "Infection rank", "choice", choices=_ranks(), required=True),
        ]
        return [*rows, vet_row(self.known.vets)] if len(self.known.vets) > 1 else rows

    def _where(self, answers: Answers) -> list[Field]:
        client = answers.get("client")
        if client is None:
            return []
        if client.value == NEW:
            return [*self._new_client(), *_NEW_WATER]
        waters = self._waters(client.words)
        picks = (*(Choice("", w.system, w.name) for w in waters), NEW_WATER)
        row = Field("water", "Water", "pick", choices=picks, required=True)
        new = "water" in answers and answers["water"].value == NEW
        return [row, *_NEW_WATER] if new else [row]

    def _new_client(self) -> list[Field]:
        """Ask who it is; after what is known already of somebody, offer to take that one."""
        at = next((n for n, f in enumerate(_NEW_CLIENT, 1) if f.key == self._said_at), 0)
        same = [SAME] if self.likely else []
        return [*_NEW_CLIENT[:at], *same, *_NEW_CLIENT[at:]]

    def take(self, client: str, name: str) -> None:
        """Answer with a client of the records."""
        for key in WHO:
            self.answers.pop(key, None)
        self.likely = ()
        entry = Entry(name, client)
        self.answers["client"] = entry
        self._settle(entry)

    def _shown(self, field: Field) -> Shown:
        if field == SAME and self.likely:
            return Shown(self.likely[0].name, pending=True)
        return super()._shown(field)

    def _paint_below(self) -> None:
        super()._paint_below()
        for field, row in zip(self.form.fields, self.form.rows, strict=True):
            if field == SAME and self.likely:
                # Under its own row, where there is room for all of it.
                row.state.error = f"{self.likely[0].sentence} Up, Enter takes that one."
                row.paint()

    async def _take_same(self) -> None:
        """Take the client of the records instead of a new one, and go on with why."""
        self.take(self.likely[0].client, self.likely[0].name)
        await self.form.set_fields(self.fields())
        self.form.refresh_rows()
        self._paint_below()
        self.form.go([field.key for field in self.form.fields].index("reason"))
        self.form.open_row()

    async def on_mount(self) -> None:
        """Look again for whom a form that was left was about to make."""
        last = next((key for key in reversed(WHO) if key in self.answers), "")
        if last and self.answers.get("client", NEW_ENTRY).value == NEW:
            await self._look_for(last)
            await self._changed()

    async def _forgotten(self, field: Field) -> None:
        if field.key in WHO:
            await self._look_for(field.key)

    async def _look_for(self, said_at: str) -> None:
        """Look whether the client who is about to be made is in the records."""
        who = [self.answers[key].words if key in self.answers else "" for key in WHO]
        self.likely = await self.app.look(_likely, *who)
        self._said_at = said_at

    def double(self) -> str:
        """Return the line that stands there when somebody is about to be made a second time."""
        if not self.likely:
            return ""
        one = self.likely[0]
        return f"Makes a new client; {one.name} is in the records ({one.why}).\n"

    def said(self, answers: Answers) -> str:
        """Return the lines under the form."""
        return self.double() + super().said(answers)

    def _waters(self, client: str) -> list[Water]:
        return [w for w in self.known.waters if w.client == client]

    async def _keep(self, field: Field, entry: Entry) -> None:
        if field == SAME:
            await self._take_same()
            return
        if field.key in WHO:
            self.answers[field.key] = entry
            await self._look_for(field.key)
        elif field.key == "client":
            self.likely = ()
            self._settle(entry)
        elif field.key == "water":
            self._take_rank(entry.words)
        await super()._keep(field, entry)

    def _settle(self, client: Entry) -> None:
        """Take the client's first water, until another is picked."""
        waters = self._waters(client.words)
        self.answers.pop("water", None)
        if waters:
            self.answers["water"] = Entry(waters[0].name, waters[0].system)
            self._take_rank(waters[0].system)
        elif client.value != NEW:
            self.answers["water"] = Entry(NEW_WATER.label, NEW)

    def _take_rank(self, system: str) -> None:
        """A water that was visited keeps the rank it had."""
        rank = next((w.rank for w in self.known.waters if w.system == system), None)
        if rank:
            self.answers["rank"] = Entry(_ranks()[rank - 1].label, str(rank))

    async def write(self, answers: Answers, although: str) -> None:
        asked, newcomer = self._wanted(answers, although)
        self.made = await self.app.save(bookings.book, self.act(), asked, newcomer=newcomer)

    def _wanted(self, answers: Answers, although: str) -> tuple[Asked, Newcomer | None]:
        def words(key: str) -> str:
            return answers[key].words if key in answers else ""

        kind = next(k for k in booking.kinds() if k.key == words("kind"))
        new = words("client") == NEW or words("water") == NEW
        asked = Asked(
            "" if new else words("water"),
            self.day,
            words("starts"),
            words("vet"),
            kind.minutes,
            kind.key,
            words("reason"),
            int(words("rank")),
            although=although,
        )
        return asked, self._newcomer(words, answers.get("volume")) if new else None

    def _newcomer(self, words: Callable[[str], str], volume: Entry | None) -> Newcomer:
        known = "" if words("client") == NEW else words("client")
        return Newcomer(
            client=known,
            name=words("name"),
            phone=words("phone"),
            address=words("address"),
            site=self.known.sites.get(known, ""),
            system=words("water_name"),
            kind=words("water_kind"),
            volume_l=volume.number if volume else None,
            volume_typed=volume.text if volume else "",
        )


def _likely(name: str, phone: str, address: str) -> tuple[Likely, ...]:
    """Return who may be the same; another address alone does not make another person."""
    return duplicates.likely(name, phone, address) or duplicates.likely(name, phone)


def rounded(now: datetime) -> str:
    """Return the next quarter of an hour, or the last one of the day."""
    late = now + timedelta(minutes=-now.minute % QUARTER)
    return f"{late:%H:%M}" if late.date() == now.date() else "23:45"


def _kinds() -> tuple[Choice, ...]:
    return tuple(Choice(k.letter, k.key, k.name) for k in booking.kinds())


def _ranks() -> tuple[Choice, ...]:
    rows = load.table("ranks")["rank"]
    return tuple(Choice(key, key, f"{key}, {row['name']}") for key, row in rows.items())


def _waters_known() -> tuple[Choice, ...]:
    rows = load.table("system_kinds")
    return tuple(Choice("", key, row["name"]) for key, row in rows.items())


_CLIENT = Field(
    "client",
    "Client",
    "pick",
    hint="or new",
    example="part of a name, or new",
    required=True,
    near=True,
)
_NEW_CLIENT = [
    Field("name", "Name", example="Odile Fennimar", required=True),
    Field("phone", "Phone", example="555 0101"),
    Field("address", "Address", example="3 Reed Row, gate at the side"),
]
_NEW_WATER = [
    Field("water_name", "Water", example="garden pond", required=True),
    Field("water_kind", "Kind of water", "pick", choices=_waters_known(), required=True),
    Field("volume", "Volume", "quantity", "volume", "L", 1, 100_000_000, example="1200 gal"),
]
