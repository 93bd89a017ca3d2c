# mypy: ignore-errors
"""Make the font files beside this script, and the table of advance widths. Not run by pullbench itself.

    python make_fonts.py FOLDER

FOLDER holds the flared variable files of the npm package @fontsource-variable/commissioner
(`npm pack @fontsource-variable/commissioner`, then unpack): commissioner-{latin,latin-ext,greek,cyrillic}-
flar-normal.woff2. Needs fonttools and brotli. Two weights are frozen out of them with full flare, which
are the two of the design tokens: 500 for text, 680 for what is strong.

commissioner-500.ttf, -680.ttf      all four scripts, for pictures drawn without a browser
commissioner-500.woff2, -680.woff2  western European letters and Greek, small, for embedding in an SVG
advances.json                       per weight, {character: advance in units of one em / 2000}
"""

import json
import sys
import tempfile
from pathlib import Path

from fontTools.merge import Merger
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

WEIGHTS = (500, 680)  # declared as 500 and 700: some drawing programs know hundreds only
SCRIPTS = ("latin", "latin-ext", "greek", "cyrillic")
EMBEDDED = [*range(0x20, 0x7F), *range(0xA0, 0x100), *range(0x391, 0x3CA), 0x2212, 0x2013, 0x2014, 0x2026]
EMBEDDED += [0x2018, 0x2019, 0x201C, 0x201D, 0x201E, 0x2192, 0x2070]


def frozen(folder: Path, script: str, weight: int, place: Path) -> str:
    """Write one script at one weight, fully flared, as a plain font; return its path."""
    font = TTFont(folder / f"commissioner-{script}-flar-normal.woff2")
    font = instantiateVariableFont(font, {"wght": weight, "FLAR": 100})
    font.flavor = None
    path = place / f"{script}-{weight}.ttf"
    font.save(path)
    return str(path)


def kept(font: TTFont, unicodes: list[int]) -> TTFont:
    """Return the font cut down to these characters, with kerning and without hinting."""
    options = Options()
    options.layout_features, options.hinting, options.notdef_outline = ["kern", "mark", "ccmp"], False, True
    options.name_IDs, options.drop_tables = (
        [0, 1, 2, 3, 4, 5, 6, 13, 14],
        [*options._drop_tables_default, "STAT"],
    )
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=unicodes)
    subsetter.subset(font)
    return font


def named(font: TTFont, weight: int) -> TTFont:
    """Return the font under the plain family name, so that weight alone tells the two apart."""
    style = "Regular" if weight == 500 else "Bold"
    names = {1: "Commissioner", 2: style, 4: f"Commissioner {weight}", 6: f"Commissioner-{weight}"}
    for name_id, name in names.items():
        font["name"].setName(name, name_id, 3, 1, 0x409)
    font["OS/2"].usWeightClass = round(weight, -2)  # weights are told apart in hundreds
    font["head"].modified = font["head"].created  # the same bytes each time
    font.recalcTimestamp = False
    return font


def main(folder: Path, place: Path) -> None:
    """Write the five files."""
    advances = {}
    for weight in WEIGHTS:
        with tempfile.TemporaryDirectory() as made:
            font = Merger().merge([frozen(folder, script, weight, Path(made)) for script in SCRIPTS])
        font = named(kept(font, sorted(font.getBestCmap())), weight)
        ttf = place / f"commissioner-{weight}.ttf"
        font.save(ttf)
        cmap, widths = font.getBestCmap(), font["hmtx"]
        advances[str(weight)] = {chr(code): widths[glyph][0] for code, glyph in sorted(cmap.items())}
        small = kept(TTFont(ttf), EMBEDDED)
        small.flavor, small.recalcTimestamp = "woff2", False
        small.save(place / f"commissioner-{weight}.woff2")
    text = json.dumps(advances, ensure_ascii=False, separators=(",", ":"))
    (place / "advances.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(__file__).parent)
