"""Formulas: read from the notation, and set as MathML, Typst maths and plain text."""

import json
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.render.formula import mathml, notation, parse, pieces, plain, plain_words, typst_maths
from pullbench.render.formula.tree import (
    FUNCTIONS,
    GREEK,
    RELATIONS,
    Applied,
    Bracket,
    Chain,
    Fraction,
    Negative,
    Number,
    Power,
    Quoted,
    Root,
    Run,
    Symbol,
)

MATHS = "{http://www.w3.org/1998/Math/MathML}"


def chains(part, signs):
    return st.lists(part, min_size=2, max_size=4).flatmap(
        lambda parts: st.tuples(*[st.sampled_from(signs)] * (len(parts) - 1)).map(
            lambda chosen: Chain(tuple(parts), chosen)
        )
    )


def grammar(inside):
    """Return formulas built by the ranks of the notation around a smaller formula."""
    wrapped = st.builds(Bracket, inside) | st.builds(Root, inside)
    applied = st.builds(Applied, st.sampled_from(FUNCTIONS), ATOMS | wrapped, st.none() | ATOMS)
    powers = st.builds(Power, ATOMS | wrapped, ATOMS | wrapped | st.builds(Negative, ATOMS))
    factors = ATOMS | wrapped | applied | powers
    runs = factors | st.lists(factors, min_size=2, max_size=3).map(lambda some: Run(tuple(some)))
    signed = runs | st.builds(Negative, runs)
    fractions = signed | st.builds(Fraction, signed, signed)
    products = fractions | chains(fractions, ["*"])
    sums = products | chains(products, ["+", "-", "±"])
    return sums | chains(sums, RELATIONS)


NAMES = st.sampled_from(["F", "N", "m", "g", *GREEK])
BELOW = st.sampled_from(["", "s", "k", "max", "1"])
NUMBERS = st.decimals(0, 999, places=2).map(lambda n: Number(str(n)))
WORDS = st.text(st.characters(exclude_characters='"', exclude_categories=["C", "Z"]), min_size=1, max_size=8)
ATOMS = st.builds(Symbol, NAMES, BELOW) | NUMBERS | WORDS.map(Quoted)
FORMULAS = st.recursive(ATOMS, grammar, max_leaves=12)


@given(FORMULAS)
def test_a_formula_written_in_the_notation_is_read_back_as_the_same_tree(tree):
    assert parse(notation(tree)) == tree


@given(FORMULAS, st.booleans(), st.booleans())
def test_mathml_is_well_formed_and_shows_every_number_of_the_formula(tree, block, comma):
    drawn = ET.fromstring(mathml(tree, block=block, comma=comma))
    assert drawn.tag == f"{MATHS}math"
    assert drawn.get("alttext") == plain(tree, comma=comma)
    shown = [one.text for one in drawn.iter(f"{MATHS}mn")]
    written = [token.replace(".", ",") if comma else token for token in numbers_of(tree)]
    assert sorted(shown) == sorted(written)


def numbers_of(tree):
    """Return the numbers in a tree, found through the dataclasses alone."""
    if isinstance(tree, Number):
        return [tree.text]
    if isinstance(tree, tuple):
        return [number for part in tree for number in numbers_of(part)]
    fields = getattr(tree, "__dataclass_fields__", {})
    return [number for name in fields for number in numbers_of(getattr(tree, name))]


@pytest.mark.parametrize(
    ("formula", "line"),
    [
        ("mu_s N", "μs N"),
        ("F_max <= mu_s N", "Fmax ≤ μs N"),
        ("a = (F - mu_k m g) / m", "a = (F − μk m g) / m"),
        ("F / m g", "F / (m g)"),
        ("sin^2 theta / cos theta", "sin² θ / cos θ"),
        ("Delta v = sqrt(2 a s)", "Δv = √(2 a s)"),
        ("theta ~= arctan(mu_s)", "θ ≈ arctan (μs)"),
        ('N = ("0.42 kg" + "1.5 kg") "9.81 N/kg"', "N = (0.42 kg + 1.5 kg) · 9.81 N/kg"),
        ("0.42 * 24.5", "0.42 · 24.5"),
    ],
)
def test_a_voice_reads_a_formula_as_one_line_without_signs_of_ours(formula, line):
    assert plain(parse(formula)) == line


def test_a_product_side_by_side_binds_tighter_than_the_fraction_line():
    assert parse("mu N / m g") == Fraction(Run((Symbol("mu"), Symbol("N"))), Run((Symbol("m"), Symbol("g"))))


def test_typographic_signs_read_like_typed_ones():
    assert parse("a · b − c ≤ d ≈ e ≥ f") == parse("a * b - c <= d ~= e >= f")


def test_the_decimal_comma_reaches_numbers_and_quoted_values_but_no_full_stop():
    assert plain_words('It takes `F = 0.42 * "24.5 N"`, not 1.5 N. Stop.', comma=True) == (
        "It takes F = 0,42 · 24,5 N, not 1,5 N. Stop."
    )


def test_a_stacked_fraction_drops_the_brackets_that_its_line_replaces():
    drawn = ET.fromstring(mathml(parse("(a + b) / c"), block=True))
    assert [one.text for one in drawn.iter(f"{MATHS}mo")] == ["+"]
    assert drawn.find(f".//{MATHS}mfrac") is not None


def test_in_a_line_of_words_a_fraction_has_a_slash_and_keeps_its_brackets():
    drawn = ET.fromstring(mathml(parse("(a + b) / (c d)")))
    assert drawn.find(f".//{MATHS}mfrac") is None
    assert [one.text for one in drawn.iter(f"{MATHS}mo")] == ["(", "+", ")", "/", "(", "\u2062", ")"]


@pytest.mark.parametrize(
    ("formula", "told"),
    [
        ("a +", "expected a symbol, a number or a bracket, found the end"),
        ("(a", "expected ), found the end"),
        ("a ) b", "expected nothing more, found ')'"),
        ("sqrt a", "expected ( after sqrt, found 'a'"),
        ("a $ b", "found '$'"),
        ("a b_", "found '_'"),
        ('"6.2 N', "found '\"'"),
        ("sin theta^2", "as in sin^2 theta"),
        ("", "found the end"),
    ],
)
def test_a_malformed_formula_is_refused_with_its_place(formula, told):
    with pytest.raises(ValueError, match=r"^formula ") as fault:
        parse(formula)
    assert told in str(fault.value)


def test_a_formula_without_an_end_is_refused():
    with pytest.raises(ValueError, match="has no end"):
        list(pieces("It takes `mu_s N."))


@settings(max_examples=20, deadline=None)
@given(st.lists(FORMULAS, min_size=20, max_size=20))
def test_typst_draws_every_formula_with_its_line_for_a_voice(trees):
    typst = pytest.importorskip("typst")
    source = "\n\n".join(f"#{typst_maths(tree, block=at % 2 == 0)}" for at, tree in enumerate(trees))
    told = typst.Compiler(source.encode()).query("math.equation", field="alt")
    assert json.loads(told) == [plain(tree) for tree in trees]
