"""The visit record as a paper: what the rows hold, said as the paper says it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, time

from core.numbers import plain
from core.papers import visit_data as data
from core.practice import history, letterhead, record_findings, record_plan
from core.practice.charges import as_line, bill
from core.practice.names import name
from core.practice.record_rows import VisitRows, visit_number
from core.records import read
from core.records.tables import (
    Addendum,
    Answer,
    FishGroup,
    Loss,
    Move,
    OwnerStep,
    Proposed,
    Reading,
    Recheck,
    Sign,
    StageMark,
    Tried,
)
from core.units import show


def record_of(visit_id: str) -> data.VisitRecord:
    """Return the whole record of a visit as the paper takes it."""
    visit = VisitRows(visit_id)
    row, head = visit.opened.visit, letterhead.head(visit.practice)
    addenda = read.find(Addendum, visit=visit_id)
    signed = row.signed_at
    late = read.find(Proposed, visit=visit_id)
    taken = {p.addendum: p for p in late if p.addendum is not None}
    settled = [p.settled_at for p in late if p.settled_at is not None]
    moments = [*(a.at for a in addenda), *(p.at for p in late), *settled]
    last = max(moments, default=signed)
    return data.VisitRecord(
        number=visit_number(visit.opened),
        version=1 + len(late) + len(settled) + sum(a.id not in taken for a in addenda),
        practice=head,
        client=letterhead.party(visit.opened.client),
        issued=letterhead.wall(last, visit.practice) if last else _begun(visit),
        visited=row.day,
        veterinarian=visit.opened.vet.name,
        system=tuple(_system_facts(visit)),
        patients=tuple(_patient(g) for g in visit.opened.groups),
        complaint=row.reason,
        arrived=row.starts,
        history=tuple(_history(visit)),
        watched=tuple(_watched(visit)),
        water=tuple(record_findings.water(visit)),
        do_first=tuple(record_findings.do_first(visit)),
        figures=tuple(record_findings.figures(visit)),
        in_hand=tuple(record_findings.in_hand(visit)),
        depth=tuple(record_findings.depth(visit)),
        samples=tuple(record_findings.samples(visit)),
        slides=tuple(record_findings.slides(visit)),
        awaited=tuple(record_findings.awaited(visit)),
        feeding=record_findings.feeding(visit),
        problems=tuple(record_plan.problems(visit)),
        treatments=tuple(record_plan.treatments(visit)),
        consents=tuple(record_plan.consents(visit)),
        advice=tuple(f"{s.kind}: {s.words}" for s in read.find(OwnerStep, visit=visit_id)),
        rechecks=tuple(
            data.Recheck(r.target, r.kind, r.reason) for r in read.find(Recheck, visit=visit_id)
        ),
        passed_over=tuple(
            (m.stage, m.why) for m in read.find(StageMark, visit=visit_id, state="passed over")
        ),
        charges=tuple(
            (f"{c.words}, {plain(float(c.quantity))}", as_line(c).amount)
            for c in bill(visit_id).charges
        ),
        currency=letterhead.currency(visit.practice),
        signature=record_plan.signature(visit),
        addenda=tuple(record_plan.addendum(visit, a, taken.get(a.id)) for a in addenda),
        waiting=len(late) - len(settled),
    )


def _begun(visit: VisitRows) -> datetime:
    """Return the last moment anything was read or answered: the paper takes no clock."""
    moments = [r.at for r in read.find(Reading, visit=visit.id)]
    moments += [a.at for a in read.find(Answer, visit=visit.id)]
    start = datetime.combine(visit.opened.visit.day, time(12), UTC)
    return letterhead.wall(max(moments, default=start), visit.practice)


def _system_facts(visit: VisitRows) -> Iterator[tuple[str, str]]:
    system, site = visit.opened.system, visit.opened.site
    yield "System", system.name
    yield "Kind", name("kind", system.kind)
    yield "Site", ", ".join(filter(None, (site.name, site.address)))
    if system.volume_l is not None:
        error = system.volume_error_percent
        spread = f", within {plain(error)} %" if error else ""
        yield "Volume", show(system.volume_l, "volume") + spread
    if system.flow_l_s:
        yield "Flow", f"{plain(system.flow_l_s)} L/s"
    yield "Food fish", "yes" if system.food_fish else "no"
    yield "Plants, invertebrates", f"{system.plants}, {system.invertebrates}"


def _patient(group: FishGroup) -> str:
    number = "1 fish" if group.single else f"{group.count or 'unknown number of'} fish"
    tag = f", {group.tag}" if group.tag else ""
    kind = name("species", group.species)
    return f"{group.name}: {kind}, {number}, {group.stage}, age and sex unknown{tag}"


def _answers(visit: VisitRows) -> Iterator[tuple[str, str]]:
    """Give each answer in the words of the screen; one that is no question stands by itself."""
    answers = read.find(Answer, visit=visit.id)
    waters = tuple(dict.fromkeys(a.system for a in answers))
    told = set()
    for water in waters:
        where = f" ({visit.systems.get(water, '')})" if len(waters) > 1 else ""
        for line in history.view(visit.id, water).lines:
            if line.answer is not None:
                told.add(line.answer.id)
                yield line.asked.question.label + where, line.words
    for answer in answers:
        if answer.id not in told:
            yield name("question", answer.question), answer.value or answer.state


def _history(visit: VisitRows) -> Iterator[tuple[str, str]]:
    yield from _answers(visit)
    for loss in read.find(Loss, visit=visit.id):
        days = [d.isoformat() for d in (loss.day, loss.day_to) if d]
        yield "Losses", f"{loss.number} on {' to '.join(days) or 'a day not known'} {loss.note}"
    for move in read.find(Move, visit=visit.id):
        fish = visit.groups[move.group].name if move.group in visit.groups else "fish"
        to = visit.systems.get(move.to_system, "")
        why = f": {move.why}" if move.why else ""
        yield "Moved", f"{move.number or ''} {fish} to {to}{why}".strip()
    for tried in read.find(Tried, visit=visit.id):
        yield "Tried", f"{tried.agent} {tried.amount or 'amount unknown'} {tried.since}".strip()


def _watched(visit: VisitRows) -> Iterator[data.Watched]:
    for sign in read.find(Sign, visit=visit.id):
        subject = visit.groups.get(sign.subject_id)
        whom = subject.name if subject else visit.systems.get(sign.subject_id, sign.subject_id)
        called = name("sign", sign.sign)
        what = called if called != sign.sign else name("walk", sign.sign)
        value = f"{plain(round(sign.value, 1))} a minute" if sign.value is not None else sign.state
        yield data.Watched(whom, what, " ".join(filter(None, (value, sign.note))))
