"""The assessment: only the vet names, evidence only from the record, history kept across visits."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from core.assessment.problems import evidence
from core.errors import BadInput, Refusal
from core.practice import assessment, facts, plan_steps, problem_list, setup, visits
from core.practice.arrival import before
from core.practice.assessment import for_words, record_authority_call
from core.practice.keep import Act, put
from core.practice.problem_list import lines_of, movement_stop, name_problem, set_state
from core.records import read, tables
from core.records.journal import edit
from core.records.keys import new_key
from core.records.models import Edit, EditLine
from core.records.tables import (
    Answer,
    Finding,
    Handling,
    Lesion,
    ProblemState,
    Row,
    Sample,
    SentTest,
    Sign,
    Slide,
)
from tests.practice.plan_cases import MOMENT, Case, D, case


@pytest.fixture
def pond(records: Path) -> Case:
    return case("koi_pond", 18_000.0, "koi", 22)


def add(made: Case, *rows: Row) -> None:
    with edit("rows", who=made.act.by, at=MOMENT, visit=made.visit) as doing:
        for row in rows:
            doing.add(row)


def told(made: Case, question: str, state: str, value: str = "") -> None:
    where = {"visit": made.visit, "system": made.system, "question": question}
    with edit("answer", who=made.act.by, at=MOMENT, visit=made.visit) as doing:
        put(doing, Answer, where, {"state": state, "value": value, "at": MOMENT})


def sign(made: Case, key: str, state: str, subject: str = "group") -> None:
    subject_id = made.system if subject == "system" else made.group
    add(
        made,
        Sign(
            id=new_key(),
            visit=made.visit,
            system=made.system,
            subject=subject,
            subject_id=subject_id,
            sign=key,
            state=state,
            at=MOMENT,
        ),
    )


def slide(made: Case, tissue: str, *found: str, normal: bool = False, counts: str = "") -> str:
    sample = Sample(
        id=new_key(),
        visit=made.visit,
        system=made.system,
        number=f"1-{tissue}",
        tissue=tissue,
        at=MOMENT,
    )
    mount = Slide(id=new_key(), visit=made.visit, sample=sample.id, normal=normal, at=MOMENT)
    rows = [
        Finding(id=new_key(), visit=made.visit, slide=mount.id, finding=key, counts=counts)
        for key in found
    ]
    add(made, sample, mount, *rows)
    return mount.id


def known(made: Case) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for fact in facts.facts(made.visit, made.system):
        found.setdefault(fact.key, set()).add(fact.state)
    return found


# Facts.


def test_facts_come_from_rows_of_each_kind(pond: Case) -> None:
    told(pond, "new_fish", "value", "yes")
    told(pond, "quarantine", "no")
    told(pond, "who", "value", "one kind")
    sign(pond, "flashing", "seen")
    sign(pond, "gasping", "not seen")
    sign(pond, "air", "problem", "system")
    sign(pond, "flow", "not seen", "system")
    slide(pond, "gill", "gill_necrosis")
    slide(pond, "skin", normal=True)
    pond.read(temperature=19.2, ph=7.9, ammonia=5.0, oxygen=8.4)
    found = known(pond)
    assert found["history.new_fish"] == {"yes"}
    assert found["history.quarantine"] == {"no"}
    assert found["history.who"] == {"one kind"}
    assert found["sign.flashing"] == {"seen"}
    assert found["sign.gasping"] == {"not seen"}
    assert found["walk.air"] == {"problem"}
    assert "walk.flow" not in found
    assert found["slide.gill"] == {"abnormal"}
    assert found["slide.skin"] == {"clear"}
    assert found["found.gill_necrosis"] == {"seen"}
    assert found["found.ich"] == {"not seen"}
    assert found["water.toxic_ammonia"] == {"act"}
    assert found["fish.koi"] == {"yes"}
    assert found["fish.cyprinid"] == {"yes"}
    assert found["fish.catfish"] == {"no"}
    assert found["fish.marine"] == {"no"}


def test_every_fact_leads_back_to_a_row(pond: Case) -> None:
    told(pond, "new_fish", "value", "yes")
    slide(pond, "gill", "gill_fluke", counts="4, 3, 0")
    pond.read(temperature=19.0)
    for fact in facts.facts(pond.visit, pond.system):
        assert ":" in fact.record, fact
        assert fact.words, fact


def test_counts_of_nothing_are_not_seen(pond: Case) -> None:
    slide(pond, "gill", "gill_fluke", counts="0, 0, 0")
    assert known(pond)["found.gill_fluke"] == {"not seen"}


def test_a_slide_that_nobody_read_says_nothing(pond: Case) -> None:
    slide(pond, "gill")
    assert "slide.gill" not in known(pond)


def test_unknown_and_not_asked_stay_missing(pond: Case) -> None:
    told(pond, "new_fish", "unknown")
    found = evidence(problem_list.kinds()["khv"], facts.facts(pond.visit, pond.system))
    assert "history.new_fish" in {line.clue.fact for line in found.missing}
    assert "history.new_fish" not in {line.clue.fact for line in found.lines_against}


def test_a_lesion_and_the_result_of_a_test_are_facts(pond: Case) -> None:
    fish = Handling(
        id=new_key(), visit=pond.visit, system=pond.system, number=1, label="one", at=MOMENT
    )
    sore = Lesion(
        id=new_key(),
        visit=pond.visit,
        handling=fish.id,
        kind="ulcer",
        place="flank_left",
        size_mm=9.0,
    )
    test = SentTest(
        id=new_key(), visit=pond.visit, system=pond.system, name="PCR, koi herpesvirus", day=D
    )
    answer = tables.TestResult(
        id=new_key(),
        visit=pond.visit,
        test=test.id,
        value="Negative by PCR",
        by=pond.act.by,
        at=MOMENT,
    )
    add(pond, fish, sore, test, answer)
    found = known(pond)
    assert found["lesion.ulcer"] == {"seen"}
    assert found["look.hand"] == {"done"}
    assert found["lab.khv_pcr"] == {"negative"}


def test_striking_a_row_takes_its_fact_from_every_column(pond: Case) -> None:
    mount = slide(pond, "gill", "gill_fluke")
    name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes")
    line = assessment.view(pond.visit, pond.system).lines[0]
    assert line.evidence is not None
    assert any("luke" in w for w in for_words(line.evidence))
    with edit("struck", who=pond.act.by, at=MOMENT, visit=pond.visit) as doing:
        for row in read.find(Finding, slide=mount):
            doing.strike(Finding, row.id, "wrong slide")
        doing.strike(Slide, mount, "wrong slide")
    line = assessment.view(pond.visit, pond.system).lines[0]
    assert line.evidence is not None
    assert not any("luke" in w for w in for_words(line.evidence))
    assert "found.gill_fluke" in {m.clue.fact for m in line.evidence.missing}


# Naming.


def test_nothing_is_named_without_the_vet(pond: Case) -> None:
    slide(pond, "gill", "gill_necrosis")
    told(pond, "new_fish", "value", "yes")
    view = assessment.view(pond.visit, pond.system)
    assert view.worth
    assert view.lines == ()
    assert read.find(tables.Problem) == ()
    assert read.find(ProblemState) == ()


def test_worth_a_look_is_words_of_the_record_without_any_number(pond: Case) -> None:
    slide(pond, "gill", "gill_fluke", counts="4")
    sign(pond, "flashing", "seen")
    worth = assessment.view(pond.visit, pond.system).worth
    assert worth[0].kind.key == "gill_flukes"
    for one in worth:
        assert one.evidence.lines_for
        assert "%" not in " ".join(for_words(one.evidence))


def test_problems_of_other_fish_and_other_water_are_not_worth_a_look(records: Path) -> None:
    pond = case(species="goldfish")
    told(pond, "new_fish", "value", "yes")
    sign(pond, "flashing", "seen")
    pond.read(temperature=20.0)
    keys = {w.kind.key for w in assessment.view(pond.visit, pond.system).worth}
    assert "ich" in keys
    assert not keys & {"cryptocaryon", "marine_velvet", "khv"}
    assert assessment.view(pond.visit, pond.system).next_tests == ()


def test_a_technician_can_not_name_or_judge_a_problem(pond: Case) -> None:
    with pytest.raises(Refusal, match="Only a veterinarian names a problem"):
        name_problem(pond.technician, pond.visit, pond.system, problem="khv")
    key = name_problem(pond.act, pond.visit, pond.system, problem="khv")
    for change in (
        lambda: set_state(pond.technician, pond.visit, key, "confirmed"),
        lambda: problem_list.say_why(pond.technician, pond.visit, key, "x"),
        lambda: problem_list.strike_problem(pond.technician, pond.visit, key, "x"),
    ):
        with pytest.raises(Refusal, match="Only a veterinarian"):
            change()
    assert [s.state for s in read.find(ProblemState)] == ["suspected"]


def test_every_state_belongs_to_an_edit_of_the_vet(pond: Case) -> None:
    key = name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes")
    set_state(pond.act, pond.visit, key, "confirmed", "flukes seen")
    who = {e.id: e.who for e in Edit.select()}
    made = [str(x.edit) for x in EditLine.select() if x.in_table == "problem_state"]
    assert len(made) == 2
    assert {who[e] for e in made} == {pond.act.by}
    states = read.find(ProblemState, order="at, id", problem=key)
    assert [(s.state, s.by) for s in states] == [
        ("suspected", pond.act.by),
        ("confirmed", pond.act.by),
    ]


def test_several_problems_may_be_true_and_none_twice(pond: Case) -> None:
    name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes", state="confirmed")
    name_problem(pond.act, pond.visit, pond.system, problem="nitrite_harm")
    own = name_problem(pond.act, pond.visit, pond.system, words="a leak in the liner")
    assert read.one(tables.Problem, own).problem == ""
    assert len(lines_of(pond.visit, pond.system)) == 3
    with pytest.raises(Refusal, match="on the list already"):
        name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes")
    with pytest.raises(BadInput):
        name_problem(pond.act, pond.visit, pond.system, words="  ")


def test_ruled_out_needs_a_reason_and_a_new_one_can_not_be_improving(pond: Case) -> None:
    with pytest.raises(Refusal, match="Say why"):
        name_problem(pond.act, pond.visit, pond.system, problem="khv", state="ruled out")
    with pytest.raises(Refusal, match="can not be improving"):
        name_problem(pond.act, pond.visit, pond.system, problem="khv", state="improving")
    key = name_problem(pond.act, pond.visit, pond.system, problem="khv")
    with pytest.raises(Refusal, match="Say why"):
        set_state(pond.act, pond.visit, key, "ruled out")
    set_state(pond.act, pond.visit, key, "ruled out", "PCR negative")
    assert not lines_of(pond.visit, pond.system)[0].problem.open


def test_problems_carry_between_visits_with_their_history(pond: Case) -> None:
    key = name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes")
    set_state(pond.act, pond.visit, key, "confirmed", "four in a snip")
    later = visits.book(
        pond.act, pond.system, D + timedelta(8), "09:00", pond.act.by, "recheck", kind="recheck"
    )
    soon = Act(pond.act.by, MOMENT + timedelta(days=8))
    line = lines_of(later, pond.system)[0]
    assert line.problem.carried
    assert line.now == ()
    assert [s.state for s in line.states] == ["suspected", "confirmed"]
    set_state(soon, later, key, "improving")
    set_state(soon, later, key, "resolved", "none at two looks")
    assert [s.state for s in lines_of(later, pond.system)[0].states] == [
        "suspected",
        "confirmed",
        "improving",
        "resolved",
    ]
    # The earlier visit still shows what it held.
    assert [s.state for s in lines_of(pond.visit, pond.system)[0].states] == [
        "suspected",
        "confirmed",
    ]
    with pytest.raises(Refusal, match="earlier visit"):
        problem_list.strike_problem(soon, later, key, "x")


def test_a_problem_of_a_fish_follows_it_to_another_water(pond: Case) -> None:
    from core.practice import moves

    key = name_problem(pond.act, pond.visit, pond.system, problem="costia", group=pond.group)
    tank = setup.add_system(pond.act, pond.site, "tank", "quarantine_fresh", volume_l=180.0)
    moves.add_move(pond.act, pond.visit, moves.Moved(pond.group, pond.system, tank, D, 22))
    assert [x.row.id for x in lines_of(pond.visit, tank)] == [key]
    assert [x.row.id for x in lines_of(pond.visit, pond.system)] == [key]


def test_a_problem_named_by_mistake_is_struck_with_its_states(pond: Case) -> None:
    key = name_problem(pond.act, pond.visit, pond.system, problem="costia")
    problem_list.strike_problem(pond.act, pond.visit, key, "wrong row")
    assert lines_of(pond.visit, pond.system) == ()
    assert read.one(tables.Problem, key).struck == "wrong row"
    assert read.find(ProblemState, problem=key) == ()


def test_why_is_put_to_the_state_of_this_visit(pond: Case) -> None:
    key = name_problem(pond.act, pond.visit, pond.system, problem="costia")
    problem_list.say_why(pond.act, pond.visit, key, "seen in the scrape")
    assert read.find(ProblemState, problem=key)[0].why == "seen in the scrape"


# Listed disease, people, and the next test.


def test_a_suspected_listed_disease_stops_movement_until_it_is_ruled_out(pond: Case) -> None:
    assert movement_stop(pond.visit) == ()
    key = name_problem(pond.act, pond.visit, pond.system, problem="khv")
    view = assessment.view(pond.visit, pond.system)
    assert "nothing alive, dead or wet leaves this site" in view.movement[0]
    assert view.authority == "the authority of the tests"
    assert view.call is None
    offers = plan_steps.offers(pond.visit, pond.system)
    assert any(o.kind == "do not" and "no fish alive or dead" in o.words for o in offers)
    assert any("listed disease" in c for c in before(D)[pond.visit].cautions)
    set_state(pond.act, pond.visit, key, "ruled out", "PCR negative")
    assert movement_stop(pond.visit) == ()


def test_the_stop_holds_for_every_water_of_the_site(pond: Case) -> None:
    tank = setup.add_system(pond.act, pond.site, "tank", "quarantine_fresh", volume_l=180.0)
    name_problem(pond.act, pond.visit, pond.system, problem="khv")
    assert assessment.view(pond.visit, tank).movement


def test_the_call_to_the_authority_is_kept_with_who_and_when(pond: Case) -> None:
    name_problem(pond.act, pond.visit, pond.system, problem="khv")
    with pytest.raises(BadInput):
        record_authority_call(pond.act, pond.visit, pond.system, " ", "16:40")
    record_authority_call(
        pond.act, pond.visit, pond.system, "the state's office", "16:40, sample by courier"
    )
    call = assessment.view(pond.visit, pond.system).call
    assert call is not None
    assert (call.told_by, call.value, call.at) == (
        "the state's office",
        "16:40, sample by courier",
        MOMENT,
    )


def test_what_may_pass_to_people_is_said_while_it_is_open(pond: Case) -> None:
    key = name_problem(pond.act, pond.visit, pond.system, problem="mycobacteriosis")
    assert any("infect people" in z for z in assessment.view(pond.visit, pond.system).zoonoses)
    set_state(pond.act, pond.visit, key, "ruled out", "culture negative")
    assert assessment.view(pond.visit, pond.system).zoonoses == ()


def test_the_next_test_is_one_that_was_not_done_or_sent(pond: Case) -> None:
    name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes")
    first = assessment.view(pond.visit, pond.system).next_tests[0]
    assert first.test.key == "gill_snip"
    name_problem(pond.act, pond.visit, pond.system, problem="khv")
    # Among equals the more urgent problem comes first.
    assert assessment.view(pond.visit, pond.system).next_tests[0].problems == ("khv",)
    slide(pond, "gill", normal=True)
    keys = {n.test.key for n in assessment.view(pond.visit, pond.system).next_tests}
    assert "gill_snip" not in keys
    assert "khv_pcr" in keys
    add(
        pond,
        SentTest(id=new_key(), visit=pond.visit, system=pond.system, name="khv_pcr", day=D),
    )
    view = assessment.view(pond.visit, pond.system)
    assert "khv_pcr" not in {n.test.key for n in view.next_tests}
    assert [t.name for t in view.awaited] == ["khv_pcr"]


FRESH_ONLY = {
    "anchor_worm",
    "chilodonella",
    "columnaris",
    "freshwater_velvet",
    "gill_rot",
    "ich",
    "saprolegnia",
}


def test_what_lives_in_fresh_water_is_not_looked_at_in_the_sea(records: Path) -> None:
    tank = case("marine_fish_only", 800.0, "clownfish", 4)
    for key in ("white_spots", "flashing", "cotton", "film", "parasite_seen", "yellow_saddle"):
        sign(tank, key, "seen")
    shown = {w.kind.key for w in assessment.view(tank.visit, tank.system).worth}
    assert "cryptocaryon" in shown
    assert not shown & FRESH_ONLY
    held = evidence(problem_list.kinds()["ich"], facts.facts(tank.visit, tank.system))
    assert any("is marine water" in words for words in assessment.against_words(held))


def test_in_fresh_water_they_still_are(pond: Case) -> None:
    sign(pond, "white_spots", "seen")
    shown = {w.kind.key for w in assessment.view(pond.visit, pond.system).worth}
    assert "ich" in shown
    assert "cryptocaryon" not in shown
