"""The record of a visit, from the owner's words to the signature, with addenda below it."""

from __future__ import annotations

from collections.abc import Iterator

from core.errors import Refusal
from core.papers.blocks import (
    Beside,
    Block,
    Bullets,
    Heading,
    KeyValues,
    Notice,
    Paragraph,
    Sheet,
    Table,
    Totals,
    twin,
)
from core.papers.blocks import pdf as draw
from core.papers.parts import PaperSize, day, moment
from core.papers.visit_data import (
    KINDS,
    Addendum,
    Feeding,
    Figure,
    Problem,
    Slide,
    Treatment,
    VisitRecord,
)

UNSIGNED = "NOT SIGNED: may still change"
ROUTE = ("What", "Amount", "Route", "To", "When")


def pdf(record: VisitRecord, paper: PaperSize = "A4") -> bytes:
    """Draw a visit record.

    Raises
    ------
    Refusal
        For addenda without a signature above them, and charges without a currency.
    """
    return draw(sheet(record), paper)


def text(record: VisitRecord) -> str:
    """Write a visit record as plain text, in the order of the PDF; raises as `pdf` does."""
    return twin(sheet(record))


def sheet(record: VisitRecord) -> Sheet:
    """Lay a visit record out as blocks; raises as `pdf` does."""
    if record.addenda and not record.signature:
        raise Refusal("An addendum stands below a signature.", "Sign the visit first.")
    if record.charges and not record.currency:
        raise Refusal("The charges of this record have no currency.")
    systems = dict(record.system)
    return Sheet(
        practice=record.practice,
        title=f"Visit record {record.number}, version {record.version}",
        subject=", ".join(filter(None, (record.client.name, systems.get("System", "")))),
        issued=record.issued,
        blocks=tuple(_blocks(record)),
        mark="" if record.signature else UNSIGNED,
    )


def _blocks(record: VisitRecord) -> Iterator[Block]:
    yield _facts(record)
    yield from _bullets("Patients", record.patients)
    yield from _section("Complaint", Paragraph(record.complaint) if record.complaint else None)
    yield from _pairs("History", record.history)
    yield from _watching(record)
    yield from _water(record)
    yield from _figures(record.figures)
    yield from _hands(record)
    yield from _depth(record)
    yield from _samples(record)
    yield from _slides(record.slides)
    yield from _awaited(record)
    yield from _feeding(record.feeding)
    yield from _problems(record.problems)
    yield from _treatments(record.treatments)
    yield from _pairs("Consent and communication", record.consents)
    yield from _bullets("Advice to the owner", record.advice)
    yield from _rechecks(record)
    yield from _pairs("Passed over", record.passed_over)
    yield from _charges(record)
    yield from _signature(record)
    for addendum in record.addenda:
        yield from _addendum(addendum)
    if record.waiting:
        yield Notice(_waiting(record.waiting))


def _facts(record: VisitRecord) -> Beside:
    client = record.client
    times = " to ".join(filter(None, (record.arrived, record.left)))
    left = KeyValues(
        (
            ("Client", client.name),
            ("Address", ", ".join(client.address)),
            ("Phone", client.phone),
            ("Email", client.email),
            ("Visit", " ".join(filter(None, (day(record.visited), times)))),
            ("Veterinarian", record.veterinarian),
            ("Present", record.present),
        )
    )
    return Beside((left,), (KeyValues(record.system),))


def _section(name: str, *blocks: Block | None) -> Iterator[Block]:
    there = [block for block in blocks if block]
    if there:
        yield Heading(name)
        yield from there


def _bullets(name: str, items: tuple[str, ...]) -> Iterator[Block]:
    return _section(name, Bullets(items) if items else None)


def _pairs(name: str, rows: tuple[tuple[str, str], ...]) -> Iterator[Block]:
    return _section(name, KeyValues(rows) if rows else None)


def _rows(
    name: str,
    heads: tuple[str, ...],
    rows: tuple[tuple[str, ...], ...],
    shares: tuple[float, ...],
) -> Iterator[Block]:
    return _section(name, Table(heads, rows, shares) if rows else None)


def _watching(record: VisitRecord) -> Iterator[Block]:
    rows = tuple((seen.subject, seen.what, seen.seen) for seen in record.watched)
    return _rows("Watching", ("Who", "What", "Seen"), rows, (3, 3, 6))


def _water(record: VisitRecord) -> Iterator[Block]:
    rows = tuple(
        (read.what, read.here, read.tap, read.verdict, read.limit, read.taken)
        for read in record.water
    )
    heads = ("Reading", "Here", "Tap", "Verdict", "Limit", "Place, time, kit")
    yield from _rows("Water", heads, rows, (3, 2.3, 2, 1.7, 4, 3))
    if record.do_first:
        numbered = (f"{at} {act}" for at, act in enumerate(record.do_first, start=1))
        yield Paragraph("Do first: " + "; ".join(numbered), strong=True)


def _figures(figures: tuple[Figure, ...]) -> Iterator[Block]:
    if figures:
        yield Heading("Figures and their working")
    for figure in figures:
        yield Paragraph(f"{figure.what}: {figure.value}", strong=True)
        rows = (
            ("Formula", figure.formula),
            ("Equation", figure.equation),
            ("Working", figure.working),
            ("Source", figure.source),
        )
        yield KeyValues(rows)


def _hands(record: VisitRecord) -> Iterator[Block]:
    heads = ("Fish", "Weight", "Length", "Condition", "Lesions", "Sedation")
    rows = tuple(
        (
            ", ".join(filter(None, (fish.name, fish.species))),
            " ".join(filter(None, (fish.weight, fish.weight_how))),
            fish.length,
            fish.condition,
            fish.lesions,
            fish.sedation,
        )
        for fish in record.in_hand
    )
    return _rows("In hand", heads, rows, (3, 2.6, 1.7, 2, 3, 3))


def _depth(record: VisitRecord) -> Iterator[Block]:
    rows = tuple(
        (
            one.fish,
            one.time,
            one.since,
            ": ".join(filter(None, (one.what, one.note))),
            one.rate,
            one.by,
        )
        for one in record.depth
    )
    heads = ("Fish", "Time", "Since in", "What", "Beats", "By")
    return _rows("Anaesthesia and euthanasia", heads, rows, (2, 1.7, 1.7, 6, 1.8, 2))


def _samples(record: VisitRecord) -> Iterator[Block]:
    rows = tuple(
        (
            sample.number,
            sample.animal,
            sample.what,
            "got" if sample.got else "not got",
            "; ".join(filter(None, (sample.why, sample.sent))),
        )
        for sample in record.samples
    )
    heads = ("No.", "From", "Sample", "Got", "Why, or where it went")
    return _rows("Samples", heads, rows, (1.5, 3, 4, 1.5, 4))


def _slides(slides: tuple[Slide, ...]) -> Iterator[Block]:
    nothing = (("nothing recorded", "", ""),)
    rows = tuple(
        (_slide(slide) if not at else "", what, count, grade)
        for slide in slides
        for at, (what, count, grade) in enumerate(slide.findings or nothing)
    )
    heads = ("Slide", "Finding", "Count", "Grade")
    return _rows("Microscopy", heads, rows, (5, 5, 2.4, 1.6))


def _slide(slide: Slide) -> str:
    of = f"{slide.number} of sample {slide.sample}"
    return ", ".join(filter(None, (of, slide.stain, slide.magnification, slide.fields)))


def _awaited(record: VisitRecord) -> Iterator[Block]:
    rows = tuple(
        (test.test, test.where, day(test.due) if test.due else "no date", test.result or "waiting")
        for test in record.awaited
    )
    heads = ("Test", "Where", "Due", "Result")
    return _rows("Results awaited", heads, rows, (4, 3, 2.6, 4))


def _feeding(feeding: Feeding | None) -> Iterator[Block]:
    if not feeding:
        return
    yield from _pairs("Feeding check", feeding.facts)
    if feeding.held:
        yield Notice("The ramp is held", (feeding.held,))
    rows = tuple((step.begins, step.food, step.predicted, step.gate) for step in feeding.steps)
    heads = ("From", "Food", "Predicted", "Gate")
    yield from _rows("Feeding ramp", heads, rows, (2.4, 2, 4, 6))


def _problems(problems: tuple[Problem, ...]) -> Iterator[Block]:
    if problems:
        yield Heading("Problems")
    for problem in problems:
        yield Paragraph(f"{problem.name}: {problem.status}", strong=True)
        evidence = (
            ("So far", "\n".join(problem.states)),
            ("For", "\n".join(problem.speaks_for)),
            ("Against", "\n".join(problem.speaks_against)),
            ("Missing", "\n".join(problem.missing)),
        )
        yield KeyValues(evidence)


def _treatments(treatments: tuple[Treatment, ...]) -> Iterator[Block]:
    """Keep the four kinds apart, each under its own heading."""
    for kind in KINDS:
        chosen = tuple(treatment for treatment in treatments if treatment.kind == kind)
        rows = tuple((one.what, one.amount, one.route, one.whom, one.when) for one in chosen)
        yield from _rows(f"Treatment {kind}", ROUTE, rows, (4, 2.6, 2, 3, 2.6))
        for one in chosen:
            if one.details:
                details = "; ".join(f"{name}: {value}" for name, value in one.details)
                yield Paragraph(f"{one.what}. {details}")


def _rechecks(record: VisitRecord) -> Iterator[Block]:
    rows = tuple((day(look.on), look.how, look.why) for look in record.rechecks)
    return _rows("Rechecks", ("When", "How", "Why"), rows, (3, 2, 7))


def _charges(record: VisitRecord) -> Iterator[Block]:
    if not record.currency or not record.charges:
        return iter(())
    show = record.currency.show
    rows = tuple((what, show(minor), False) for what, minor in record.charges)
    total = ("Charges, before tax", show(sum(minor for _, minor in record.charges)), True)
    return _section("Charges", Totals((*rows, total)))


def _signature(record: VisitRecord) -> Iterator[Block]:
    signature = record.signature
    if not signature:
        return iter((Notice(UNSIGNED),))
    rows = (
        ("Signed by", signature.name),
        ("When", moment(signature.signed)),
        ("Hash", signature.hash),
        *([("In the chain", signature.chain)] if signature.chain else []),
    )
    return _section("Signature", KeyValues(rows))


def _addendum(addendum: Addendum) -> Iterator[Block]:
    taken = bool(addendum.entered)
    rows = (
        *([("Entered by", addendum.entered)] if taken else []),
        ("Taken by" if taken else "By", addendum.author),
        ("When", moment(addendum.added)),
        ("Reason", addendum.reason),
        ("Hash", addendum.hash),
    )
    return _section("Addendum", Paragraph(addendum.words), KeyValues(rows))


def _waiting(count: int) -> str:
    said = (
        "1 entry that came in after signing awaits"
        if count == 1
        else (f"{count} entries that came in after signing await")
    )
    return f"{said} the veterinarian."
