"""Question packages as another implementation of the standards takes them: pyslet, from PyPI, written without us.

It reads IMS content packaging 1.2 and QTI 2.1 and runs the response processing.  It is of 2017 and lacks two things,
mended here: it knows no MathML (each formula gives way to its alternative text), and it forgets that the attribute
`tolerance` is a list, which its own excerpt of the schema says.
"""

import io
import re
import zipfile

import pytest

from pullbench.render.items import package
from pullbench.render.items.bank import identifier
from pullbench.teach.problems import KINDS
from unit.render.test_items import LETTERS, bank, column

expressions = pytest.importorskip(
    "pyslet.qtiv2.expressions", reason="the dependency group `test` is not installed"
)
imscp = pytest.importorskip("pyslet.imscpv1p2")
items = pytest.importorskip("pyslet.qtiv2.items")
qti = pytest.importorskip("pyslet.qtiv2.xml")
variables = pytest.importorskip("pyslet.qtiv2.variables")

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")  # of its own older names
FORMULA = re.compile(r'<math [^>]*alttext="([^"]*)"[^>]*>.*?</math>', re.DOTALL)


@pytest.fixture(autouse=True)
def _mended(monkeypatch):
    monkeypatch.setattr(expressions.Equal, "XMLATTR_tolerance", ("tolerance", float, repr, list))
    monkeypatch.setattr(expressions.Equal, "float_or_template_ref", lambda self, state, number: number)


def read(data):
    """Return one item as pyslet reads it; what has no place by the standard raises."""
    document = qti.QTIDocument()
    document.read(src=io.BytesIO(FORMULA.sub(r"\1", data.decode("utf-8")).encode("utf-8")))
    assert isinstance(document.root, items.AssessmentItem)
    return document.root


def answered(item, response):
    """Return (score, feedback) after one answer, by pyslet's own response processing."""
    state = variables.ItemSessionState(item)
    state.begin_session()
    (declared,) = item.ResponseDeclaration
    state.map["RESPONSE"] = variables.Value.new_value(declared.cardinality, declared.baseType)
    state.map["RESPONSE"].set_value(response)
    item.ResponseProcessing.run(state)
    return state["SCORE"].value, state["FEEDBACK"].value


@pytest.mark.parametrize("name", KINDS)
def test_another_implementation_gives_our_scores_and_our_feedback(name):
    made = bank(column(name))
    with zipfile.ZipFile(io.BytesIO(package(made))) as packed:
        for entry in made.entries():
            part = entry.part
            item = read(
                packed.read(next(one for one in packed.namelist() if one.endswith(f"/{entry.name}.xml")))
            )
            choice = part.form == "choice"
            right = LETTERS[round(part.answer)] if choice else float(part.answer)
            assert item.declarations["RESPONSE"].get_correct_value().value == (
                right if choice else pytest.approx(right, rel=1e-5)
            )
            assert answered(item, right) == (1.0, "RIGHT")
            assert answered(item, None)[0] == 0.0
            for wrong in part.wrong:
                score, feedback = answered(item, LETTERS[wrong.option] if choice else float(wrong.value))
                assert score == 0.0
                assert feedback in (identifier(wrong.idea), "UNCLEAR")
            if not choice:
                assert answered(item, part.answer + 0.99 * part.tolerance) == (1.0, "RIGHT")
                assert answered(item, part.answer + 1.01 * part.tolerance)[0] == 0.0


def test_another_implementation_finds_every_item_and_picture_of_a_package(tmp_path):
    made = bank(column("level-pull"), column("compare-pairs"))
    path = tmp_path / "friction.zip"
    path.write_bytes(package(made))
    opened = imscp.ContentPackage(str(path))
    try:
        resources = opened.manifest.root.Resources.Resource
        kept = {str(one.get_entry_point().href) for one in resources if "imsqti_item" in one.type}
        assert kept == {f"items/{entry.name}.xml" for entry in made.entries()}
        listed = {str(file.href) for one in resources for file in one.File}
        with zipfile.ZipFile(path) as packed:
            assert listed == set(packed.namelist()) - {"imsmanifest.xml"}
    finally:
        opened.close()
