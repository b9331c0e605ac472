"""Water: readings as the kits give them, judged while they are typed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from core.dates import said
from core.errors import BadInput
from core.numbers import figures, plain
from core.practice import water
from core.practice.visits import Opened
from core.practice.water import Analyte
from core.records.tables import Reading, System
from core.water.derived import Figure
from core.water.readings import WaterReadings
from core.water.verdict import Verdict
from tui.keys import bind
from tui.widgets.dialog import reason
from tui.widgets.field import Entry, Field, judge, unlikely
from tui.widgets.row import Shown, Widths
from tui.workup.fitting import in_lines
from tui.workup.stage import Stage

FOLLOWS = {
    "ammonia": (("toxic_ammonia", "{} toxic"),),
    "oxygen": (("oxygen_percent", "{} % of what this water holds"),),
    "kh": (("carbon_dioxide", "CO2 {} mg/L"),),
    "alkalinity": (("carbon_dioxide", "CO2 {} mg/L"),),
    "nitrite": (("nitrite_as_ion", "{} as NO2"),),
    "nitrate": (("nitrate_as_ion", "{} as NO3"),),
    "salinity": (("specific_gravity", "sg {} here and now"),),
}
"""What is worked out beside which reading, and how it is said."""
AT = {"here": "here", "tap": "at the tap", "inlet": "at the inlet", "outlet": "at the outlet"}
DRIVES = ("temperature", "ph", "salinity", "kh", "alkalinity")
"""Readings on which what stands in other rows depends."""
JUDGED = {"ammonia": ("toxic_ammonia", "ammonia"), "oxygen": ("oxygen", "oxygen_percent")}
"""Readings that are judged in two ways."""


class WaterStage(Stage):
    """The readings of one water, at one place at a time."""

    TITLE = "Water"
    WIDTHS = Widths(label=19, value=10, aside=7)
    BINDINGS = [
        bind("place", "place", "Here or tap"),
        bind("basis", "basis", "Kit unit"),
        bind("last", "last", "As last time"),
        bind("strike", "strike", show=False),
    ]

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__(opened, system)
        self.view: water.WaterView | None = None
        self.place = water.places(system)[0]
        self.ways: dict[str, int] = {}
        """Which of its units or bases each analyte is typed in."""
        self.known = {a.key: a for a in water.analytes()}
        self.judged: water.Judged | None = None

    async def load(self) -> None:
        self.view = await self.app.look(water.view, self.visit_id, self.system.id)
        self.judged = water.judged(self.view, self._saved())
        for key, reading in {**self.view.last, **self.view.readings(self.place)}.items():
            ways = _ways(self.known[key])
            said = reading.basis or reading.unit
            if key not in self.ways and said in ways:
                self.ways[key] = ways.index(said)

    def _saved(self) -> WaterReadings:
        assert self.view is not None
        return water.as_readings(self.view.readings(self.place))

    def _way(self, analyte: Analyte) -> str:
        return _ways(analyte)[self.ways.get(analyte.key, 0)]

    def fields(self) -> list[Field]:
        return [self._field(a) for a in self.known.values()]

    def _field(self, analyte: Analyte) -> Field:
        way = self._way(analyte)
        based = bool(analyte.bases)
        hint = f"in {way}" if way and not based else ""
        return Field(
            analyte.key,
            f"{analyte.label}, {way}" if based or len(analyte.units) > 1 else analyte.label,
            "quantity",
            analyte.kind,
            analyte.units[0] if based else way,
            *analyte.hard,
            likely=analyte.soft,
            steps=True,
            example=analyte.example,
            hint=hint,
        )

    def shown(self, field: Field) -> Shown:
        assert self.view is not None
        reading = self.view.readings(self.place).get(field.key)
        if reading is None:
            return Shown(aside=self._aside(field.key), note=self._last_words(field))
        assert self.judged is not None
        row = self._judged_row(self.known[field.key], _typed(reading), self.judged)
        return replace(row, again=reading.typed)

    def _last_words(self, field: Field) -> str:
        assert self.view is not None
        last = self.view.last.get(field.key)
        if last is None or self.place != self.view.judged_place:
            return field.hint
        day = said(date.fromisoformat(self.view.last_day), self.app.today())
        return f"last time {_typed(last)}, {day}"

    def _aside(self, key: str) -> str:
        assert self.view is not None
        spots = water.places(self.system)
        other = spots[1] if self.place == spots[0] else spots[0]
        reading = self.view.readings(other).get(key)
        return f"{reading.typed}" if reading else ""

    def _judged_row(self, analyte: Analyte, value: str, found: water.Judged) -> Shown:
        figures = {
            name: said.format(_short(figure))
            for name, said in FOLLOWS.get(analyte.key, ())
            if (figure := getattr(found.derived, name)).value is not None
        }
        follows = list(figures.values())
        if self.place != water.places(self.system)[0]:
            return Shown(value, "", self._aside(analyte.key), "; ".join(follows))
        gravest = found.word(analyte.reading)
        word = gravest.word if gravest and gravest.word != "no limit" else ""
        told = gravest is not None and (word in ("watch", "act") or not follows)
        brief = (
            [f"{brief_of(gravest)}{' as N' if analyte.bases else ''}"] if gravest and told else []
        )
        judged = JUDGED.get(analyte.key, (analyte.reading,))
        sentences = {n: found.verdicts[n].sentence for n in judged if n in found.verdicts}
        # A verdict says its own figure: said twice, the sentences would not fit below.
        beside = [words for name, words in figures.items() if name not in sentences]
        return Shown(
            value,
            word,
            self._aside(analyte.key),
            "; ".join(filter(None, (*follows, *brief))),
            detail=" ".join(filter(None, ("; ".join(beside), *sentences.values()))),
        )

    async def keep(self, field: Field, entry: Entry) -> None:
        analyte = self.known[field.key]
        way = self._way(analyte)
        measured = water.Measured(
            field.key,
            entry.number,
            entry.text,
            entry.unit,
            way if analyte.bases else "",
            entry.below,
            entry.above,
        )
        await self.app.save(
            water.record_reading, self.act(), self.visit_id, self.system.id, measured, self.place
        )

    def live(self, field: Field, text: str) -> None:
        assert self.view is not None
        analyte = self.known[field.key]
        note = ""
        try:
            entry = judge(field, text, self.app.today())
        except BadInput:
            readings = water.with_value(self._saved(), analyte, None, below=False)
        else:
            value = water.in_canon(entry.number, self._way(analyte) if analyte.bases else "")
            readings = water.with_value(self._saved(), analyte, value, entry.below)
            note = unlikely(field, entry)
        self.judged = water.judged(self.view, readings)
        others = self.form.fields if field.key in DRIVES else []
        for other in others:
            if other.key != field.key and other.key in self.view.readings(self.place):
                self.form.show_live(other.key, self.shown(other))
        row = self._judged_row(analyte, self.shown(field).value, self.judged)
        joined = "; ".join(filter(None, (note, row.note)))
        whole = " ".join(filter(None, (note and note + ".", row.detail)))
        live = replace(row, note=joined, detail=whole)
        self.form.show_live(field.key, live)
        self.paint_below()
        self.show_detail()

    def below(self) -> str:
        if self.judged is None:
            return ""
        others = " and ".join(p for p in water.places(self.system) if p != self.place)
        where = f"Typing what was measured {AT[self.place]}; l: {others}"
        steps = [f"{n} {water.said(f)}" for n, f in enumerate(self.judged.first, 1)]
        if self.place != water.places(self.system)[0]:
            return where
        return in_lines([where, *(["Do first", *steps] if steps else [])])

    def working_text(self) -> str:
        assert self.view is not None
        because = (
            "\n".join(f"{water.said(f)}. {f.because}" for f in self.judged.first)
            if (self.judged)
            else ""
        )
        return f"{water.working_of(self.view, self._saved())}\n\nDo first, because\n{because}"

    async def action_place(self) -> None:
        """Type at the next place: here, the tap, the inlet, the outlet."""
        spots = water.places(self.system)
        self.place = spots[(spots.index(self.place) + 1) % len(spots)]
        await self.rebuild()

    async def action_basis(self) -> None:
        """Type the current reading in the next unit or basis that kits use."""
        analyte = self.known[self.form.field.key]
        ways = len(_ways(analyte))
        self.ways[analyte.key] = (self.ways.get(analyte.key, 0) + 1) % ways
        await self.form.set_fields(self.fields())

    def action_last(self) -> None:
        """Open the row with what stood there at the last visit; Enter takes it."""
        assert self.view is not None
        last = self.view.last.get(self.form.field.key)
        if last is not None:
            self.form.open_with(_typed(last))

    def action_strike(self) -> None:
        assert self.view is not None
        reading = self.view.readings(self.place).get(self.form.field.key)
        if reading is None:
            return

        async def done(why: str) -> None:
            await self.app.save(water.strike_reading, self.act(), reading.id, why)

        self.ask(reason(f"Strike {self.form.field.label}", done, "typed in the wrong row"))


def brief_of(verdict: Verdict) -> str:
    """Return the limit of a verdict in few words: the one it breaks, or the aim it keeps."""
    limit = verdict.limit
    if limit is None:
        return ""
    bounds = (
        ("under", limit.low, -1),
        ("over", limit.high, 1),
        ("under the aim of", limit.aim_low, -1),
        ("over the aim of", limit.aim_high, 1),
    )
    for words, bound, side in bounds:
        if verdict.word != "good" and bound is not None and (verdict.value - bound) * side > 0:
            return f"{words} {plain(bound)}"
    low, high = (limit.aim_low, limit.aim_high)
    if low is None and high is None:
        low, high = limit.low, limit.high
    ends = [plain(end) for end in (low, high) if end is not None]
    if len(ends) == 2:
        return f"kept at {ends[0]} to {ends[1]}"
    return f"{'at least' if high is None else 'at most'} {ends[0]}" if ends else ""


def _ways(analyte: Analyte) -> tuple[str, ...]:
    return analyte.bases or analyte.units


def _typed(reading: Reading) -> str:
    has_unit = any(c.isalpha() for c in reading.typed)
    return reading.typed if has_unit or reading.basis else f"{reading.typed} {reading.unit}".strip()


def _short(figure: Figure) -> str:
    assert figure.value is not None
    text = figures(figure.value, 4 if 1 <= figure.value < 1.1 else 2 if figure.value < 100 else 3)
    return f"under {text}" if figure.at_most else text
