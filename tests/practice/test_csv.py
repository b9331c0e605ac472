"""Clients, sites and waters from anybody's CSV file: read, looked through, made in one edit."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from core.errors import BadInput, Refusal
from core.practice import csv_columns, csv_plan, csv_read, csv_write, setup
from core.practice.csv_cells import clean, kind_of, kinds, unit_in
from core.practice.csv_columns import COLUMNS, Every, Match, first_values, guess
from core.practice.csv_plan import Plan
from core.practice.csv_read import CsvFile, parse
from core.practice.keep import Act
from core.records import exchange, read
from core.records.engine import query
from core.records.tables import Client, Site, System
from tests.slips import people

HEAD = "Customer,Tel.,Mail,Street,City,Pond,Type,Volume (gal)"
GOOD = "Odile Fennimar,555 0101,odile@pond.example,3 Reed Row,Reedmark,garden pond,koi pond,1200"


def quiet(done: int, of: int) -> None:
    """Say nothing."""


def file_of(*lines: str) -> CsvFile:
    return parse("\n".join((HEAD, *lines, "")).encode())


def planned(*lines: str, **more: int | Every) -> Plan:
    file = file_of(*lines)
    return csv_plan.plan(file, {**guess(file.header), **more}, quiet)


def sentences(plan: Plan) -> list[str]:
    return [bad.sentence for bad in plan.bad]


def cells(data: bytes) -> list[tuple[str, ...]]:
    return [line.cells for line in parse(data).lines]


TEXT = "Name;Street\nZoë Ærø;Pool Street\n"


@pytest.mark.parametrize(
    ("data", "encoding"),
    [
        (TEXT.encode(), "utf-8"),
        (TEXT.encode("utf-8-sig"), "utf-8"),
        (TEXT.encode("cp1252"), "cp1252"),
        (TEXT.encode("utf-16"), "utf-16-le"),
        (TEXT.replace("\n", "\r\n").encode(), "utf-8"),
        (TEXT.replace("\n", "\r").encode(), "utf-8"),
        (TEXT.replace(";", ",").encode(), "utf-8"),
        (TEXT.replace(";", "\t").encode(), "utf-8"),
        (TEXT.strip().encode(), "utf-8"),
        (b"sep=;\n" + TEXT.encode(), "utf-8"),
    ],
)
def test_a_file_is_read_whatever_wrote_it(data: bytes, encoding: str) -> None:
    file = parse(data)
    assert file.header == ("Name", "Street")
    assert [(line.cells, line.wrong) for line in file.lines] == [(("Zoë Ærø", "Pool Street"), "")]
    assert file.encoding == encoding


def test_quoted_lines_and_long_cells_are_one_cell_and_lines_are_counted() -> None:
    file = parse(b'Name,Note\n"a\n""b""","x, y"\n\n\nc,' + b"z" * 300_000 + b"\n")
    assert [line.number for line in file.lines] == [2, 6]
    assert file.lines[0].cells == ('a\n"b"', "x, y")
    assert len(file.lines[1].cells[1]) == 300_000
    assert csv.field_size_limit() == 131_072


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"Name,Phone\na,1\nb", "line 3: it is the last one and is cut off"),
        ("Name,Phone\na,1\nb,Å".encode()[:-1], "line 3: it is the last one and is cut off"),
        (b'Name,Phone\na,1\n"b,2\nc,3\n', "line 3: a quotation mark is opened"),
        (b"Name,Phone\na,1\nMill, Bank, 2\n", "line 3: it has 3 cells and the first line names 2"),
    ],
)
def test_a_line_that_is_not_whole_is_told_by_its_number(data: bytes, said: str) -> None:
    *good, last = parse(data).lines
    assert [line.wrong for line in good] == [""]
    assert f"line {last.number}: {last.wrong}".startswith(said)


@pytest.mark.parametrize(
    ("data", "said"),
    [(b"", "no lines"), (b"\n \n", "no lines"), (b"PK\x03\x04...", "workbook")],
)
def test_what_is_no_csv_is_refused(data: bytes, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        parse(data)


def test_a_file_that_can_not_be_read_is_told(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="No such file"):
        csv_read.read(tmp_path / "none.csv")
    with (tmp_path / "large.csv").open("wb") as large:
        large.truncate(csv_read.LARGEST + 1)
    with pytest.raises(BadInput, match="too large"):
        csv_read.read(tmp_path / "large.csv")


def test_headings_are_known_and_each_is_taken_once() -> None:
    assert guess(HEAD.split(",")) == {
        "name": 0,
        "phone": 1,
        "email": 2,
        "address": 3,
        "town": 4,
        "system": 5,
        "kind": 6,
        "volume": 7,
    }
    assert guess(["First name", "Surname", "Mobile phone"]) == {"first": 0, "name": 1, "phone": 2}
    assert guess(["Name", "Name", "x"]) == {"name": 0}
    assert guess([column.label for column in COLUMNS]) == {
        column.key: at for at, column in enumerate(COLUMNS)
    }
    assert first_values(file_of(GOOD, "", GOOD), 0) == "Odile Fennimar | Odile Fennimar"


def test_units_stand_in_the_heading_or_in_the_cell(records: Path) -> None:
    assert [unit_in(h) for h in ("Volume [L]", "US gal", "Size", "volume / m3")] == [
        "l",
        "gal",
        "",
        "m3",
    ]
    plan = planned(GOOD, GOOD.replace("garden", "back").replace("1200", "4500 L"))
    waters = [row for row in plan.rows if isinstance(row, System)]
    assert [(w.volume_typed, round(w.volume_l or 0, 1)) for w in waters] == [
        ("1200 gal", 4542.5),
        ("4500 L", 4500.0),
    ]


def test_every_kind_of_water_is_known_by_its_key_and_its_name() -> None:
    for key, name in kinds().items():
        assert (kind_of(key), kind_of(name), kind_of(name.upper())) == (key, key, key)


BAD = {
    ("Odile Fennimar", ""): "Line 2, Customer: It is empty.",
    ("555 0101", "ask Bob"): 'Line 2, Tel.: "ask Bob": There is no digit in this phone number.',
    ("odile@pond.example", "odile"): 'Line 2, Mail: "odile": This is not an address for e-mail.',
    ("koi pond", "tank"): 'Line 2, Type: "tank": This is none of the kinds of water: koi pond,',
    ("koi pond", ""): "Line 2, Type: It is empty. For example koi pond.",
    ("1200", "1 200 cups"): 'Line 2, Volume (gal): "1 200 cups": 200 cups is not a unit',
    ("1200", "0"): 'Line 2, Volume (gal): "0": This volume can not be; 1 to 100000000 L',
    ("1200", "<5"): 'Line 2, Volume (gal): "<5": A sign < or > is not one number.',
    (
        "3 Reed Row",
        "x" * 401,
    ): 'Line 2, Street: "xxxxxxxxxxxxxxxxxxxxxxxx…": It has 401 characters;',
    ("Odile", "\x1b[31mO"): 'Line 2, Customer: "␛[31mO Fennimar": It holds control characters',
    ("Odile", "\x00O"): 'Line 2, Customer: "␀O Fennimar": It holds control characters',
    ("Odile", "␛O"): 'Line 2, Customer: "␛O Fennimar": It holds control characters',
    ("Odile", "\ufffdO"): "It holds a letter that can not be read",
}


@pytest.mark.parametrize("change", BAD, ids=BAD.values())
def test_a_bad_cell_is_told_with_line_column_reason_and_example(
    records: Path, change: tuple[str, str]
) -> None:
    plan = planned(GOOD.replace(*change))
    [said] = sentences(plan)
    assert BAD[change] in said
    assert "For example" in said
    assert plan.rows == []
    assert not any(ord(letter) < 32 or 127 <= ord(letter) < 160 for letter in said)


def test_text_is_text_and_is_cleaned_of_what_is_not_seen() -> None:
    assert clean("Robert'); DROP TABLE client;--") == "Robert'); DROP TABLE client;--"
    assert clean(" a\u200bb\u00a0c\u00ad \r\n d\te") == "ab c, d e"
    assert clean("می‌خواهم") == "می‌خواهم"
    assert clean("'+44 1") == "+44 1"
    assert clean("'=1") == "=1"
    assert clean("'t Hooft") == "'t Hooft"
    assert clean("e\u0301") == "é"


def test_lines_of_one_client_are_one_client_with_several_waters(records: Path) -> None:
    second = GOOD.replace("garden pond", "lobby").replace("1200", "90").replace("odile@", "Odile@")
    plan = planned(GOOD, second, GOOD)
    assert [plan.count(kind) for kind in (Client, Site, System)] == [1, 1, 2]
    assert (plan.known, plan.bad, plan.doubles) == (1, [], [])
    [client] = [row for row in plan.rows if isinstance(row, Client)]
    assert (client.name, client.address) == ("Odile Fennimar", "3 Reed Row, Reedmark")
    [site] = [row for row in plan.rows if isinstance(row, Site)]
    assert (site.name, site.address, site.client) == ("home", client.address, client.id)


def test_the_same_water_with_another_volume_is_bad(records: Path) -> None:
    [said] = sentences(planned(GOOD, GOOD.replace("1200", "1300")))
    assert said.startswith("Line 3, Water: garden pond of this client is on line 2 with another")


def test_a_kind_may_be_the_same_in_every_row_and_names_a_water_without_one(records: Path) -> None:
    plan = planned(GOOD.replace("garden pond,koi pond", ",x"), kind=Every("koi_pond"))
    [water] = [row for row in plan.rows if isinstance(row, System)]
    assert (water.name, water.kind) == ("koi pond", "koi_pond")
    only = planned("Odile Fennimar,555 0101,,,,,,", kind=Every("koi_pond"))
    assert [type(row) for row in only.rows] == [Client]


def test_nobody_is_taken_in_without_a_name() -> None:
    match: Match = {"phone": 1}
    with pytest.raises(BadInput, match="No column is the client's name"):
        csv_plan.plan(file_of(GOOD), match, quiet)


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (("Odile Fennimar", "Pond Hotel"), "the same phone"),
        (("Fennimar", "Fenimar"), "the same phone"),
        (("555 0101", "020 7946 0000"), "the same name and address"),
    ],
)
def test_likely_doubles_are_told_in_the_records_and_in_the_file(
    records: Path, act: Act, change: tuple[str, str], why: str
) -> None:
    other = GOOD.replace(*change).replace("odile@", "o@")
    plan = planned(GOOD, other)
    [double] = plan.doubles
    assert double.sentence.endswith(f"may be Odile Fennimar, on line 2: {why}.")
    csv_write.write(act, planned(GOOD), records, 0, quiet)
    [there] = planned(other).doubles
    assert there.sentence.endswith(f"may be Odile Fennimar, in the records: {why}.")


def test_nearly_the_same_name_is_told_unless_it_is_somebody_else(records: Path) -> None:
    def of(*lines: str) -> list[str]:
        return [double.why for double in planned(*lines).doubles]

    assert of("Odile Fennimar,,,,,,,", "Odile Fenimar,,,,,,,") == ["nearly the same name"]
    assert of("Odile Fennimar,,,1 A St,,,,", "Odile Fenimar,,,2 B Row,,,,") == []
    assert of("Odile Fennimar,5550101,,,,,,", "Odile Fenimar,5550202,,,,,,") == []
    assert of("Odile Fennimar,,,,,,,", "Oda Venn,,,,,,,") == []


def test_a_file_taken_in_again_makes_nothing(records: Path, act: Act) -> None:
    first = csv_write.write(act, planned(GOOD), records, 0, quiet)
    assert first.text == "Made: 1 clients, 1 sites, 1 waters."
    again = planned(GOOD)
    assert (again.rows, again.known, again.doubles) == ([], 1, [])
    with pytest.raises(Refusal, match="nothing in this file"):
        csv_write.write(act, again, records, 0, quiet)
    more = planned(GOOD.replace("garden pond", "quarantine"))
    assert [type(row) for row in more.rows] == [System]
    client = setup.add_client(act, "Bare")
    bare = planned("Bare,,,,,pond,koi pond,90")
    assert [row.client for row in bare.rows if isinstance(row, Site)] == [client]


def test_our_own_table_of_clients_can_be_taken_in(records: Path, act: Act) -> None:
    from core.practice.export_cells import cell

    out = io.StringIO()
    table = csv.writer(out)
    table.writerow(["name", "phone", "note"])
    table.writerow([cell("=Odd & Sons"), cell("+44 7700 900123"), cell("'quoted")])
    file = parse(out.getvalue().encode())
    [row] = csv_plan.plan(file, guess(file.header), quiet).rows
    assert isinstance(row, Client)
    assert (row.name, row.phone, row.note) == ("=Odd & Sons", "+44 7700 900123", "'quoted")


def test_leaving_ends_the_looking_through(records: Path) -> None:
    class Left(Exception):
        pass

    def leave(done: int, of: int) -> None:
        raise Left

    file = file_of(*[GOOD] * 600)
    with pytest.raises(Left):
        csv_plan.plan(file, guess(file.header), leave)
    assert exchange.is_empty()


MANY, WRONG = 10_000, 37


def test_of_ten_thousand_clients_37_bad_ones_are_listed_and_nothing_changes(
    records: Path, act: Act, tmp_path: Path
) -> None:
    """The whole of it: refused, then without the bad rows in one edit, the rest beside the file."""
    source = tmp_path / "clients.csv"
    known = people(MANY)
    bad = {round(n * MANY / WRONG) for n in range(WRONG)}
    with source.open("w", encoding="utf-8", newline="") as to:
        table = csv.writer(to)
        table.writerow(["Name", "Phone", "E-mail", "Address"])
        for n, one in enumerate(known):
            row = one.client
            phone = "none" if n in bad else row.phone
            table.writerow([row.name, phone, row.email, row.address])
    file = csv_read.read(source)
    plan = csv_plan.plan(file, csv_columns.guess(file.header), quiet)
    assert [one.line for one in plan.bad] == sorted(n + 2 for n in bad)
    assert {one.column for one in plan.bad} == {"Phone"}
    assert len(plan.rows) == MANY - WRONG
    for said in (0, WRONG - 1):
        with pytest.raises(Refusal, match="leave the 37 bad rows out"):
            csv_write.write(act, plan, source, said, quiet)
    assert exchange.is_empty()
    assert [p.name for p in tmp_path.glob("*.csv")] == ["clients.csv"]

    made = csv_write.write(act, plan, source, WRONG, quiet)
    assert made.clients == MANY - WRONG
    assert exchange.counts()["client"] == MANY - WRONG
    assert [kind for (kind,) in query('SELECT "kind" FROM "edit"')] == [csv_write.KIND]
    [left] = [p for p in tmp_path.glob("*.csv") if p != source]
    assert made.left_out == left
    again = csv_read.read(left)
    assert len(again.lines) == WRONG
    first = again.lines[0].cells
    name = known[0].client.name
    assert first[0] == name
    assert first[-2:] == (
        "2",
        'Phone: "none": There is no digit in this phone number. For example 555 0101.',
    )


def test_what_can_not_be_put_beside_the_file_keeps_all_out(
    records: Path, act: Act, tmp_path: Path
) -> None:
    plan = planned(GOOD, ",1,,,,,,")
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(Refusal, match="can not be put beside the file"):
        csv_write.write(act, plan, tmp_path / "file" / "clients.csv", 1, quiet)
    assert exchange.is_empty()


def test_a_write_that_fails_leaves_nothing_beside_the_file(
    records: Path, act: Act, tmp_path: Path
) -> None:
    plan = planned(GOOD, ",1,,,,,,")
    plan.rows.append(plan.rows[0])
    source = tmp_path / "clients.csv"
    with pytest.raises(Exception, match=r"UNIQUE"):
        csv_write.write(act, plan, source, 1, quiet)
    assert exchange.is_empty()
    assert list(tmp_path.glob("*.csv")) == []


def test_a_second_list_of_left_out_rows_does_not_replace_the_first(
    records: Path, act: Act, tmp_path: Path
) -> None:
    source = tmp_path / "clients.csv"
    csv_write.write(act, planned(GOOD, ",1,,,,,,"), source, 1, quiet)
    more = planned(
        GOOD.replace("Odile Fennimar", "Bram Ostley").replace("0101", "0999"), ",2,,,,,,"
    )
    made = csv_write.write(act, more, source, 1, quiet)
    assert made.left_out == tmp_path / "clients-left-out-2.csv"
    assert "clients-left-out-2.csv" in made.text
    assert len(read.find(Client)) == 2


def test_likely_doubles_may_be_left_out(records: Path, act: Act, tmp_path: Path) -> None:
    file = file_of(GOOD, GOOD.replace("Odile Fennimar", "Pond Hotel").replace("odile@", "o@"))
    match = guess(file.header)
    [double] = csv_plan.plan(file, match, quiet).doubles
    plan = csv_plan.plan(file, match, quiet, frozenset({double.line}))
    assert (plan.count(Client), plan.doubles) == (1, [])
    made = csv_write.write(act, plan, tmp_path / "c.csv", 0, quiet)
    assert made.left_out is not None
    assert "likely there already" in made.left_out.read_text("utf-8-sig")
