"""What the clock of an anaesthesia asks: the two steps of a euthanasia, signs, a weaker bath."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from dataclasses import replace

from core.numbers import plain
from core.practice import in_hand_agents, in_hand_bath, in_hand_clock
from core.practice.in_hand_baths import First
from core.records.tables import Handling
from tui.widgets.choices import YES_NO
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Widths

OTHER = "another way"
NO_SECOND = "The second step is missing: choose it. Nothing closes without it."
IN_IT = "That is for water with none of it in yet; in the bath it sleeps in, less is needed."
WIDTHS = Widths(label=18, value=42)


def _level(example: str) -> Field:
    return Field(
        *("level", "Its level", "quantity", "concentration", "mg/L", 0.01, 5000),
        example=example,
        required=True,
    )


def _litres() -> Field:
    return Field(
        *("bath", "Bath, made up to", "quantity", "volume", "L", 0.05, 100_000),
        example="25 L",
        required=True,
    )


def first_step(row: Handling, owner: str, finish: Callable[[First], Awaitable[None]]) -> FormDialog:
    """Return the dialog of the first step: consent, and the overdose with what to weigh."""

    async def done(answers: Answers) -> None:
        await finish(_first(answers))

    return _FirstStep(
        "First step: the overdose. f the moment it goes in. Gloves, goggles, mask",
        lambda answers: _first_fields(answers, owner),
        done,
        lambda answers: _overdose_said(row, answers),
        _usual(row),
        widths=WIDTHS,
    )


class _FirstStep(FormDialog):
    """Puts forward, with an agent, the level that none of its sources calls too weak."""

    ENTER_MAKES = False
    CSS = "#dialog-below { max-height: 10; }"

    async def _keep(self, field: Field, entry: Entry) -> None:
        if field.key == "agent":
            self.answers.pop("level", None)
            self.answers |= _level_of(entry.words)
        await super()._keep(field, entry)
        self.form.refresh_rows()


def _usual(row: Handling) -> Answers:
    if row.agent not in in_hand_agents.overdoses():
        return {}
    litres = {} if row.bath_l is None else {"bath": Entry(f"{plain(row.bath_l)} L", row.bath_l)}
    return {"agent": Entry(row.agent, row.agent), **_level_of(row.agent, row), **litres}


def _level_of(agent: str, row: Handling | None = None) -> Answers:
    known = in_hand_agents.overdose(agent)
    if known is None:
        return {}
    said = row.agent_mg_l if row and row.agent == agent else None
    level = said if said is not None and said >= known.least else known.mg_l
    return {"level": Entry(f"{plain(level)} mg/L", level)}


def _first_fields(answers: Answers, owner: str) -> Sequence[Field]:
    agents = (*in_hand_agents.overdoses(), OTHER)
    listed = tuple(Choice("", agent, agent) for agent in agents)
    found = [
        Field("who", "Whose consent", example=owner, required=True),
        Field("agent", "Overdose of", "pick", choices=listed, required=True),
    ]
    agent = answers["agent"].words if "agent" in answers else ""
    if agent == OTHER:
        return [*found, Field("way", "Which way", example="a blow to the head", required=True)]
    return [*found, _level("400 mg/L"), _litres()] if agent else found


def _first(answers: Answers) -> First:
    def number(key: str) -> float | None:
        return answers[key].number if key in answers else None

    who, agent = answers["who"].words, answers["agent"].words
    if agent == OTHER:
        return First(who, way=answers["way"].words)
    return First(who, agent, number("level"), number("bath"))


def _overdose_said(row: Handling, answers: Answers) -> str:
    """Return what every source calls an overdose, and what to weigh for this one."""
    agent = answers["agent"].words if "agent" in answers else ""
    known = in_hand_agents.overdose(agent)
    if known is None:
        return ""
    values = {key: answers[key].number for key in ("level", "bath") if key in answers}
    bath = replace(row, agent=agent, agent_mg_l=values.get("level"), bath_l=values.get("bath"))
    weigh = in_hand_bath.live_text(bath, kills=True) if len(values) == 2 else ""
    weak = "level" in values and values["level"] < known.mg_l
    return "\n".join(
        filter(
            None,
            (
                f"An overdose is {known.says}.",
                "Weaker than one of these sources asks." if weak else "",
                f"{weigh[:1].upper()}{weigh[1:]}." if weigh else "",
                IN_IT if weigh and row.agent == agent and row.agent_mg_l is not None else "",
            ),
        )
    )


def second_step(finish: Callable[[str], Awaitable[None]]) -> FormDialog:
    """Return the dialog of the second step, which does not end without its way."""
    ways = in_hand_clock.rules()["euthanasia"]["second_steps"]
    listed = tuple(Choice(letter, w, w) for letter, w in zip("abcdefgh", ways, strict=False))
    field = Field("how", "Second step", "choice", choices=listed, required=True)

    async def done(answers: Answers) -> None:
        await finish(answers["how"].words)

    def said(answers: Answers) -> str:
        return "" if "how" in answers else NO_SECOND

    return FormDialog("Euthanasia, second step", [field], done, said)


def signs_of_death(finish: Callable[[str], Awaitable[None]]) -> FormDialog:
    """Return the dialog that confirms death by its signs."""
    listed = in_hand_clock.rules()["euthanasia"]["signs_of_death"]
    fields = [Field(sign, sign, "choice", choices=YES_NO) for sign in listed]

    async def done(answers: Answers) -> None:
        seen = [s for s in listed if s in answers and answers[s].words == "yes"]
        await finish("; ".join(seen))

    widths = Widths(label=42, value=8)
    return FormDialog("Death confirmed by these signs", fields, done, widths=widths)


def maintenance(row: Handling, finish: Callable[[float, float], Awaitable[None]]) -> FormDialog:
    """Return the dialog of a weaker bath that keeps a fish asleep, of the same agent."""

    def said(answers: Answers) -> str:
        values = {key: answers[key].number for key in ("level", "bath") if key in answers}
        bath = replace(row, agent_mg_l=values.get("level"), bath_l=values.get("bath"))
        text = (
            in_hand_bath.live_text(bath) if len(values) == 2 else in_hand_agents.ranges(row.agent)
        )
        return f"{row.agent}: {text}"

    async def done(answers: Answers) -> None:
        await finish(answers["level"].number, answers["bath"].number)

    title = "A weaker bath that keeps it asleep. f the moment it goes in"
    fields = [_level("50 mg/L"), _litres()]
    return FormDialog(title, fields, done, said, widths=WIDTHS)
