"""Problem sheets, key and lab sheet: what stands on them, as HTML and as tagged PDF."""

import io
import json
import re
import sys
from html.parser import HTMLParser

import pytest

from pullbench.analysis import Conditions, ladder, with_coefficients
from pullbench.errors import PullbenchError
from pullbench.render import sheets
from pullbench.render.sheets import Style, as_pdf, html_page, key_sheet, lab_sheet, set_record, student_sheets
from pullbench.render.sheets import pdf as pdf_module
from pullbench.render.sheets.to_typst import typst_source
from pullbench.teach.lesson import TodaysPull, pair_from
from unit.render.class_sets import AWKWARD, class_set
from unit.render.fake_pulls import held, pull

pypdf = pytest.importorskip("pypdf")
POINTS = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}  # ISO 216 and ANSI/ASME Y14.1, in points


class Words(HTMLParser):
    """The words a reader sees, and the tags that were left open."""

    VOID = ("meta", "img", "br", "mspace")

    def __init__(self, page):
        super().__init__()
        self.seen, self.open, self.images = [], [], []
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        if tag not in self.VOID:
            self.open.append(tag)
        if tag == "img":
            self.images.append(dict(attrs))

    def handle_startendtag(self, tag, attrs):
        pass

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if "style" not in self.open:
            self.seen.append(data)

    @property
    def text(self):
        return " ".join(" ".join(self.seen).replace("\u00a0", " ").split())


def pages_of(document, style=None):
    reader = pypdf.PdfReader(io.BytesIO(as_pdf(document, style or Style())))
    texts = [" ".join(page.extract_text().replace("\u00a0", " ").split()) for page in reader.pages]
    return reader, texts


def a_day():
    """Return six pulls at two loads, and one that was held."""
    pulls = []
    for number, load_kg in enumerate((0.85, 0.85, 1.35, 1.35, 1.85, 1.85), 1):
        weight = load_kg * 9.80665 * (1 + 0.01 * (-1) ** number)
        one = pull(static_N=0.42 * weight, kinetic_N=0.30 * weight)
        pulls.append(TodaysPull(number=number, pull=with_coefficients(one, Conditions.of_mass(load_kg))))
    return [*pulls, TodaysPull(number=7, pull=held())]


def lab(style=Style(), **more):  # noqa: B008  a frozen value
    day = [TodaysPull(number=one.number, pull=one.pull, **more) for one in a_day()]
    lesson = pair_from(day, day="2026-11-25")
    loads = ladder([loaded for one in day if one.tells and (loaded := one.loaded())])
    return lab_sheet(day, lesson, loads, day="2026-11-25", style=style)


def test_a_students_sheet_shows_code_and_seat_and_no_place_for_a_name():
    made = class_set()
    _, texts = pages_of(student_sheets(made, Style()))
    assert f"set {made.code}, seat 1" in texts[0]
    assert not re.search(r"name:|name ?_|date:", " ".join(texts), re.IGNORECASE)


def test_a_students_sheet_never_shows_an_answer_and_the_key_shows_all():
    made = class_set()
    answers = ["6.18", "12.36"]  # 0.42 × 1.5 kg × 9.81 N/kg and twice that, by hand
    sheet = Words(html_page(student_sheets(made, Style()), Style())).text
    key = Words(html_page(key_sheet(made, Style(), {}), Style())).text
    assert not any(answer in sheet for answer in answers)
    assert "6.180 N" in key  # worked out for seat 1
    for seat, told in ((1, "6.2 N"), (2, "12 N")):
        assert f"{seat} {told} B" in key  # its row: both answers


def test_the_key_says_what_is_accepted_and_what_a_wrong_answer_may_show():
    key = key_sheet(class_set(), Style(), {"mass for weight": "The mass in kg was taken for a force."})
    text = Words(html_page(key, Style())).text
    assert "6.06 to 6.30 N" in text  # 6.18 N, 2 % either way
    assert "wrong 1: The mass in kg was taken for a force." in text
    assert "wrong 1: it needs more to keep going" in text  # an idea without words of its own keeps its name


def test_every_seat_begins_on_the_front_of_a_leaf():
    reader, texts = pages_of(student_sheets(class_set(seats=3), Style()))
    for seat in (1, 2, 3):
        first = next(at for at, text in enumerate(texts) if f", seat {seat}" in text)
        assert first % 2 == 0, f"seat {seat} begins on page {first + 1} of {len(reader.pages)}"
        assert texts[first].endswith(f"seat {seat} page 1")


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("more", [{}, {"large_print": True}, {"plain_type": True}, {"comma": True}], ids=str)
def test_the_pdf_is_tagged_titled_in_a_language_and_of_the_right_paper(paper, more):
    style = Style(paper=paper, **more)
    for document in (student_sheets(class_set(), style), key_sheet(class_set(), style, {}), lab(style)):
        reader, _ = pages_of(document, style)
        root = reader.trailer["/Root"]
        assert bool(root["/MarkInfo"]["/Marked"])
        assert "/StructTreeRoot" in root
        assert root["/Lang"].startswith("en")
        assert bool(root["/ViewerPreferences"]["/DisplayDocTitle"])
        assert reader.metadata.title == document.title
        assert b"pdfuaid:part" in root["/Metadata"].get_data()
        size = [float(x) for x in reader.pages[0].mediabox[2:]]
        assert size == pytest.approx(POINTS[paper], abs=0.5)


def kinds_and_alts(reader):
    """Return the structure elements of a PDF by kind, with their alternative texts."""
    found, todo = {}, [reader.trailer["/Root"]["/StructTreeRoot"]]
    while todo:
        node = todo.pop()
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            todo += node
        elif isinstance(node, dict):
            if "/S" in node:
                found.setdefault(str(node["/S"]), []).append(str(node.get("/Alt", "")))
            if "/K" in node:
                todo.append(node["/K"])
    return found


def test_a_voice_reads_figures_and_formulas_of_the_pdf_in_words():
    reader, _ = pages_of(key_sheet(class_set(), Style(), {}))
    found = kinds_and_alts(reader)
    assert "A sled on a level floor, with its weight." in found["/Figure"]
    assert "F = μs m g = 6.180 N" in found["/Formula"]
    assert all(found["/Formula"])
    assert {"/H1", "/H2", "/Table", "/TH", "/TD"} <= set(found)


def test_only_our_own_fonts_and_those_of_mathematics_are_used():
    reader, _ = pages_of(student_sheets(class_set(), Style()))
    names = {
        str(font.get_object()["/BaseFont"])
        for page in reader.pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert names
    assert all(re.search("Commissioner|NewCM", name) for name in names), names


def test_awkward_letters_in_the_name_of_a_surface_come_out_as_they_are():
    document = student_sheets(class_set(seats=1), Style())
    assert AWKWARD in Words(html_page(document, Style())).text
    assert AWKWARD in pages_of(document)[1][0]


@pytest.mark.parametrize("build", [student_sheets, lambda made, style: key_sheet(made, style, {})])
def test_the_html_is_closed_has_mathematics_and_asks_for_nothing_outside(build):
    page = html_page(build(class_set(), Style()), Style())
    assert Words(page).open == []
    assert "<math " in page
    inside = re.sub(r"data:[\w/+]+;base64,[\w+/=]+", "", page)
    addresses = set(re.findall(r"(?:https?:)?//[\w.]+[^\"'\s<)]*", inside))
    assert addresses == {
        "http://www.w3.org/1998/Math/MathML",
        "http://www.w3.org/2000/svg",
    }  # names, not requests
    assert "<script" not in page
    assert "@media print" in page


def test_large_print_has_letters_of_at_least_18_points_in_the_text():
    style = Style(large_print=True)
    sizes = []
    reader, _ = pages_of(student_sheets(class_set(seats=1), style), style)
    reader.pages[0].extract_text(
        visitor_text=lambda text, cm, tm, font, size: (
            sizes.append(size * abs(tm[3])) if "mass" in text else None
        )
    )
    assert sizes
    assert min(sizes) >= 18


def test_plain_type_slants_nothing():
    style = Style(plain_type=True)
    usual, plain = (pages_of(student_sheets(class_set(seats=1), s), s)[1][0] for s in (Style(), style))
    slanted = re.compile(
        "[\U0001d434-\U0001d467\U0001d6e2-\U0001d714]"
    )  # mathematical italic letters, Unicode
    assert slanted.search(usual)
    assert not slanted.search(plain)
    page = html_page(student_sheets(class_set(seats=1), style), style)
    assert not re.search(r"<mi>\w</mi>", page)  # a lone letter slants unless it says normal


def test_the_decimal_comma_leaves_no_decimal_point_on_any_sheet():
    style = Style(comma=True)
    for document in (student_sheets(class_set(), style), key_sheet(class_set(), style, {}), lab(style)):
        assert not re.search(r"\d\.\d", Words(html_page(document, style)).text)
        assert not re.search(r"\d\.\d", " ".join(pages_of(document, style)[1]))


def test_simulated_numbers_are_labelled_on_every_page():
    made = class_set(label="simulated")
    for document in (student_sheets(made, Style()), key_sheet(made, Style(), {}), lab(label="simulated")):
        _, texts = pages_of(document)
        assert all("simulated" in text for text in texts if text)


def test_a_problem_about_the_road_adds_its_caution_and_another_does_not():
    road = class_set(text="A van of mass `m = {m}` brakes. {sole}")
    for made, told in ((class_set(), False), (road, True)):
        text = Words(html_page(student_sheets(made, Style()), Style())).text
        assert "Try nothing without the person in charge" in text
        assert ("moving vehicle" in text) is told


def test_a_problem_without_a_figure_has_its_sheet_and_its_key():
    made = class_set(figure=None)
    for document in (student_sheets(made, Style()), key_sheet(made, Style(), {})):
        assert "<svg" not in html_page(document, Style())
        assert as_pdf(document, Style()).startswith(b"%PDF")


def test_the_lab_sheet_shows_trace_table_and_ladder_of_the_day():
    words = Words(html_page(lab(), Style()))
    assert words.images[0]["alt"].startswith("Pull 1: ")
    assert len(words.images) == 2
    assert "Press 1 N harder on the floor" in words.images[1]["alt"]
    assert "7 not said not said at least 3.85 N cannot tell pull again" in words.text
    assert "What would the pull be with no load at all?" in words.text


def test_no_halo_of_a_picture_eats_into_its_letters_on_paper():
    """Typst fills and strokes letter by letter: a word with a halo is drawn twice, first its halo, then itself."""
    source = typst_source(lab(load_kg=0.85), Style())
    assert "paint-order" not in source
    haloed = re.findall(r"<text([^>]*?) stroke=[^>]*>(.*?)</text><text([^>]*)>(.*?)</text>", source)
    assert any("static maximum" in words for _, words, _, _ in haloed)
    assert any("tspan" in words for _, words, _, _ in haloed)  # a symbol with its subscript
    assert all((place, words) == (again, same) for place, words, again, same in haloed)


def test_a_day_at_one_load_has_a_lab_sheet_without_a_ladder():
    day = [TodaysPull(number=1, pull=pull(coefficients=True))]
    document = lab_sheet(day, pair_from(day, day="2026-11-25"), None, day="2026-11-25", style=Style())
    words = Words(html_page(document, Style()))
    assert len(words.images) == 1
    assert "no load at all" not in words.text


def test_warm_paper_stays_on_the_screen():
    page = typst_source(lab(), Style())
    assert "#FBF5E7" not in page  # LIGHT.paper, LOOK's warm white
    assert "#D2D8CB" not in page


def test_the_same_set_gives_the_same_bytes():
    first, second = (as_pdf(key_sheet(class_set(), Style(), {}), Style()) for _ in range(2))
    assert first == second


def test_the_code_changes_with_the_coefficients_and_not_with_the_seats():
    assert class_set(seats=1).code == class_set(seats=3).code
    assert class_set().code != class_set(label="simulated").code  # another sole
    assert re.fullmatch(r"12[A-Z]{2}", class_set().code)


def test_the_record_holds_every_answer_with_its_tolerance_in_plain_text():
    record = json.loads(set_record(class_set(), notes=("The day is empty.",)))
    assert record["notes"] == ["The day is empty."]
    part = record["seats"][1]["problems"][0]["parts"][0]
    assert part["answer"] == pytest.approx(0.42 * 3.0 * 9.81)
    assert part["tolerance"] == pytest.approx(0.02 * 0.42 * 3.0 * 9.81)
    assert part["solution"] == ["On the level the normal force is the weight. F = μs m g = 12.361 N"]
    assert record["seats"][0]["problems"][0]["parts"][1]["options"] == ["more", "less: μk < μs"]
    assert "`" not in json.dumps(record)


def test_without_typst_it_says_how_to_install_the_part(monkeypatch):
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(PullbenchError) as fault:
        as_pdf(student_sheets(class_set(), Style()), Style())
    assert fault.value.code == "pdf-part-missing"
    assert "pip install 'pullbench[pdf]'" in str(fault.value)


def test_missing_fonts_are_named(monkeypatch, tmp_path):
    monkeypatch.setattr(pdf_module, "fonts", lambda: tmp_path)
    with pytest.raises(PullbenchError) as fault:
        as_pdf(student_sheets(class_set(), Style()), Style())
    assert fault.value.code == "sheet-fonts-missing"
    assert "commissioner-500.ttf" in fault.value.what


def test_a_coefficient_with_limits_is_told_with_its_plus_or_minus():
    day = a_day()
    lesson = pair_from(day, day="2026-11-25")
    made = sheets.ClassSet(seed=1, lesson=lesson, versions=class_set().versions)
    assert lesson.static is not None
    text = Words(html_page(student_sheets(made, Style()), Style())).text
    assert re.search(r"= 0\.4\d+ ± 0\.0\d", text)
    assert "from 6 pulls of 2026-11-25" in text
