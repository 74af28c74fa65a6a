"""Notes as a table or plain text: what spreadsheets do to it is undone or refused in words, all of it or nothing."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fakes.plan_folder import write_plan_folder
from lapseam.domain.car import Car
from lapseam.domain.errors import NotesBroken
from lapseam.domain.finding import Finding, Severity
from lapseam.domain.jotting import Jotting
from lapseam.domain.photo import CameraReadings, MediaKind, Photo, PixelReadings
from lapseam.domain.statement import Basis, CheckResult, CheckVerdict, Measurement, Statement
from lapseam.plans import Notes, columns_told, load_plan, notes_form, read_notes
from lapseam.plans.notes_form import FORM_COLUMNS
from lapseam.plans.notes_table import COLUMNS, WHAT, columns_of

NOON = datetime(2026, 5, 14, 12, 0)
A, B = "a1" * 32, "b2" * 32
BY = "Mirek Osoba"

TABLE = """\
what,car,component,name,kind,place,extent,severity,basis,context,close,who_said,check,result,reason,conditions,\
measure,value,unit,instrument,subject,claim,on,note
finding,T-1,Bumper,,chip,left end,"12,5 mm",cosmetic,,ONE.JPG,ONE.JPG;TWO.JPG,,,,,,,,,,,,13.05.2026,"two
lines, =1+2"
check,T-1,,Clock,,,,,,,,,Clock,Works,,engine off,,,,,,,,
check,T-1,,Horn,,,,,,,,,chk-clock,,,,,,,,,,,
measurement,T-1,bumper,,,left front,,,,,,,,,,,m-tread,"6,5",mm,depth gauge,,,,
measurement,T-1,bumper,,,right front,,,,,,,,,,,m-tread,7,mm,depth gauge,,,,
statement,T-1,,,,,,,told,,,owner before last,,,,,,,,,paint,=Repainted once,,
,,,,,,,,,,,,,,,,,,,,,,,
"""


def photo(sha256: str, name: str) -> Photo:
    pixels = PixelReadings(1.0, 1.0, 100.0, 0.0, 0.0, "0" * 16)
    return Photo(sha256, name, 1, MediaKind.STILL, "JPEG", 400, 300, CameraReadings(), pixels)


@pytest.fixture(scope="module")
def car(tmp_path_factory: pytest.TempPathFactory) -> Car:
    plan = load_plan(write_plan_folder(tmp_path_factory.mktemp("table") / "plans").plan)
    return Car("T-1", plan, (photo(A, "ONE.JPG"), photo(B, "TWO.JPG")))


Read = Callable[..., Notes]


@pytest.fixture(scope="module")
def read(tmp_path_factory: pytest.TempPathFactory, car: Car) -> Read:
    folder = tmp_path_factory.mktemp("notes")

    def look(content: str | bytes, name: str = "notes.csv") -> Notes:
        path = folder / name
        path.write_bytes(content.encode("utf-8") if isinstance(content, str) else content)
        return read_notes(path, car, at=NOON, by=BY)

    return look


def problems(read: Read, content: str | bytes, name: str = "notes.csv") -> tuple[str, ...]:
    with pytest.raises(NotesBroken) as caught:
        read(content, name)
    return caught.value.problems


def test_a_filled_table_becomes_decisions_and_unfilled_rows_are_passed_over(read: Read) -> None:
    finding, check, measured, said = read(TABLE).decisions
    assert isinstance(finding, Finding)
    assert (finding.number, finding.component, finding.extent, finding.severity) == (1, "bumper", "12,5 mm", "cosmetic")
    assert finding.close == (A, B)
    assert finding.evidence.on == date(2026, 5, 13)
    assert finding.note == "two\nlines, =1+2"
    assert isinstance(check, CheckResult)
    assert (check.check, check.verdict, check.by) == ("chk-clock", CheckVerdict.WORKS, BY)
    assert isinstance(measured, Measurement)
    assert [(one.place, one.value) for one in measured.readings] == [("left front", "6,5"), ("right front", "7")]
    assert isinstance(said, Statement)
    assert (said.claim, said.evidence.basis, said.evidence.who_said) == (
        "=Repainted once",
        Basis.TOLD,
        "owner before last",
    )


@pytest.mark.parametrize(
    "written",
    [
        TABLE.encode("utf-8-sig"),
        TABLE.encode("utf-16"),
        TABLE.replace("\n", "\r\n").encode("cp1252"),
        b"sep=,\r\n" + TABLE.encode(),
    ],
    ids=["bom", "utf-16", "windows", "sep"],
)
def test_what_spreadsheets_write_is_the_same_table(read: Read, written: bytes) -> None:
    told = [str(one).replace("\\r\\n", "\\n") for one in read(written).decisions]
    assert told == [str(one) for one in read(TABLE).decisions]


@pytest.mark.parametrize("mark", [";", "\t"])
def test_semicolons_and_tabs_part_cells_too(read: Read, mark: str) -> None:
    head = "What;Component;Kind;Place;Severity;Close;Note"
    row = "Finding;bumper;chip;left end;Cosmetic;ONE.JPG|TWO.JPG;Größe “fünf”, ¼"
    (made,) = read(f"{head}\n{row}\n".replace(";", mark).encode("cp1252")).decisions
    assert isinstance(made, Finding)
    assert (made.severity, made.close, made.note) == (Severity.COSMETIC, (A, B), "Größe “fünf”, ¼")


def test_every_problem_is_told_at_once_with_row_column_and_remedy(read: Read) -> None:
    told = problems(
        read,
        "what,component,kind,place,severity,close,count,reslt,on,severity\n"
        "finding,bumpr,chip,left end,awful,ONE.JPG,3,,2026-05-13,\n"
        "findng,bumper,,,,,,,,\n"
        "finding,bumper,chip,left,cosmetic,NINE.JPG,-3,,5/13/2026,\n"
        "check,bumper,,,,,,,,,works\n"
        "looked,valance,chip,,,,,,,\n",
    )
    assert told == (
        "notes.csv:1:8: row 1, column H: there is no column 'reslt' (did you mean 'result'?)",
        "notes.csv:1:10: row 1, column J: the column 'severity' stands twice (take one of them out)",
        "notes.csv:2:2: row 2, column B (component): there is no component 'bumpr' (did you mean 'bumper'?)",
        "notes.csv:2:5: row 2, column E (severity): 'awful' is not one of: note, cosmetic, wear, needs-work, "
        "structural, unsafe (write one of them)",
        "notes.csv:3:1: row 3, column A: 'findng' is nothing that a row can be (did you mean 'finding'?)",
        "notes.csv:4:6: row 4, column F (close): the car has no photo 'NINE.JPG' (did you mean 'ONE.JPG'?)",
        "notes.csv:4:7: row 4, column G (count): '-3' is out of range (wanted: a whole number from 1 to 9999)",
        "notes.csv:4:9: row 4, column I (on): '5/13/2026' is no day (write it as year-month-day, such as 2026-05-13)",
        "notes.csv:5:11: row 5, column K: 'works' stands in a column without a name (name the column, or clear it)",
        "notes.csv:6:3: row 6, column C: a row for a looked has no 'kind' (columns for it: component, photos, by)",
    )


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("", "the table has no head"),
        ("what,component\n", "no row of the table is filled in"),
        ("component,kind\nbumper,chip\n", "the table has no column 'what'"),
        (b"\x00\x01\x02\xff", "no letters of a text file"),
        (b"what\nfinding\x81\x8d", "no letters of a text file"),
        ("what,component\nfinding,\n", "needs 'kind'"),
        ("what,car,component,photos\nlooked,T-2,bumper,ONE.JPG\n", "this row is for 'T-2', the car is 'T-1'"),
        ('what,note\nfinding,"unclosed\n' + "x" * 200_000, "this is no table"),
        ("what\n" + "looked\n" * 6000, "at most 5000 are read"),
        ("what,check,result\ncheck,chk-clock,not-tested\n", "not-tested needs its reason"),
        ("what,basis,subject,claim\nstatement,told,paint,Repainted\n", "told needs who"),
        ("what,subject,claim\nstatement,paint,Repainted\n", "needs 'basis'"),
    ],
)
def test_a_bad_table_is_refused_whole_in_words(read: Read, content: str | bytes, said: str) -> None:
    assert said in "\n".join(problems(read, content))


@pytest.mark.parametrize("count", ["12,5", "1e9", "١٢٣٤٥٦", "NaN", "inf", "🚗", "３.５", "0x10", "-0", "1_000"])
def test_a_count_that_is_no_whole_number_is_refused(read: Read, count: str) -> None:
    row = f'what,component,kind,place,severity,close,count\nfinding,bumper,chip,end,note,ONE.JPG,"{count}"\n'
    assert "(count)" in problems(read, row)[0]


@pytest.mark.parametrize(("count", "meant"), [("3", 3), ("3.0", 3), ("3,00", 3), ("３", 3), (" 3 ", 3)])
def test_a_count_as_a_spreadsheet_writes_it_is_understood(read: Read, count: str, meant: int) -> None:
    row = f'what,component,kind,place,severity,close,count\nfinding,bumper,chip,end,note,ONE.JPG,"{count}"\n'
    (made,) = read(row).decisions
    assert isinstance(made, Finding)
    assert made.count == meant


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    content=st.one_of(st.binary(max_size=300), st.text(max_size=300).map(lambda text: ("what,place\n" + text).encode()))
)
def test_whatever_a_file_holds_it_is_read_or_refused_in_words(read: Read, content: bytes) -> None:
    refused: tuple[str, ...] = ("read",)
    try:
        read(content)
    except NotesBroken as error:
        refused = error.problems
    assert refused


def test_the_printed_form_is_read_back_as_nothing_until_it_is_filled_in(read: Read, car: Car) -> None:
    for mark in ",;":
        text, rows = notes_form(car, delimiter=mark)
        assert text.count("\r\n") == rows + 1
        assert "no row of the table is filled in" in "".join(problems(read, text))
    (row,) = [line for line in text.splitlines() if line.startswith("check;") and "chk-clock" in line]
    columns = text.splitlines()[0].split(";")
    cells = row.split(";")
    cells[columns.index("result")], cells[columns.index("conditions")] = "Does not work", "ignition on"
    (made,) = read(text.replace(row, ";".join(cells))).decisions
    assert isinstance(made, CheckResult)
    assert (made.check, made.verdict) == ("chk-clock", CheckVerdict.DOES_NOT_WORK)


def test_the_form_has_only_columns_that_are_read() -> None:
    assert set(FORM_COLUMNS) <= set(COLUMNS)
    assert {"what", *(name for what in WHAT for name in columns_of(what))} <= set(COLUMNS)


def test_the_columns_are_told() -> None:
    told = columns_told()
    assert all(column in told for column in COLUMNS)


def test_a_spoken_text_becomes_jottings_at_the_zones_it_speaks_of(read: Read) -> None:
    text = "the bumper is bent a bit\n\nUnderside: looks dry\nand clean\n\nask about the keys\n"
    made = read(text, "voice.txt").decisions
    assert all(isinstance(one, Jotting) and one.by == BY for one in made)
    assert [(one.number, one.zone, one.text) for one in made if isinstance(one, Jotting)] == [
        (1, "nose", "the bumper is bent a bit"),
        (2, "below", "Underside: looks dry\nand clean"),
        (3, "below", "ask about the keys"),
    ]


@pytest.mark.parametrize("content", [b"", b" \n\n ", b"x" * 5000, b"a\x00b", b"\xff\xfea"])
def test_a_text_without_words_or_without_end_is_refused(read: Read, content: bytes) -> None:
    assert problems(read, content, "voice.txt")
