"""The Pull sheet: one pull on one picture of 1280 by 720, self-contained SVG."""

from __future__ import annotations

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from pullbench.model import Pull
from pullbench.render.closeup import AREA, close_up
from pullbench.render.drawer import drawer, has_budget
from pullbench.render.flags import FOOT_Y, TEXT_Y
from pullbench.render.heading import heading
from pullbench.render.labels import Box, Ground, Label, first_free
from pullbench.render.lettering import clean, font_faces
from pullbench.render.panel import panel
from pullbench.render.paper import STRIP, hole_step_s, hole_words
from pullbench.render.strip import Strip, lay_strip
from pullbench.render.textures import textures
from pullbench.render.tokens import DESK, HEIGHT, ROOMS, WIDTH, Room, RoomName
from pullbench.render.wording import kinetic_words, next_time, static_words, what_happened

PANEL_X, PANEL_TOP, PANEL_RIGHT = 550.0, 404.0, 1250.0
HAIRLINES = Box(0, STRIP.y1, AREA.x1 + 20, FOOT_Y + 20)  # where they may cross the row of flags
FLAG_ROW = Box(8, STRIP.y1, WIDTH - 8, AREA.y0 - 6)


def pull_sheet_svg(
    pull: Pull, *, title: str, room: RoomName = "light", label: str | None = None, comma: bool = False
) -> str:
    """Return the Pull sheet of one pull as an SVG that needs nothing beside it.

    title: the sheet's name ("Pull 7, tins.csv").  label: where the numbers come from when that is not a
    sensor in this room ("simulated", "replayed"), shown plainly.  comma: decimal comma.  The same
    arguments give the same bytes.
    """
    colours = ROOMS[room]
    return picture(sheet(pull, title, colours, label, comma), HEIGHT, colours, title, describe(pull, comma))


def sheet(pull: Pull, title: str, room: Room, label: str | None, comma: bool) -> str:
    """Return the drawing of one sheet, without the frame of a picture around it."""
    strip = lay_strip(pull, room, comma=comma)
    top, labels = heading(title, pull.verdict, label, room)
    parts = [top, *strip.parts[:-1]]
    flags_cloth = strip.parts[-1]
    left, ground = 40.0, Ground(FLAG_ROW, boxes=list(strip.flag_boxes))
    moment = pull.breakaway.time_s
    if moment is not None and strip.axes.t0_s <= moment <= strip.axes.t1_s:
        joined, enlarged, words = close_up(pull, strip, room, comma=comma)
        parts += [joined, enlarged]
        labels += words
        left = PANEL_X
        ground.boxes.append(HAIRLINES)
    parts.append(flags_cloth)
    labels += [*strip.labels, *_hole_label(strip, ground, room, comma)]
    said, end = panel(
        pull,
        left,
        PANEL_TOP,
        PANEL_RIGHT - left,
        room,
        unsaid=strip.unsaid if has_budget(pull) else (),
        comma=comma,
    )
    drawn, words = drawer(pull, left, max(end + 12, 500.0), room, comma=comma)
    return "".join([*parts, drawn, *(word.svg() for word in [*labels, *said, *words])])


def picture(
    drawing: str, height: int, room: Room, title: str, description: str, *, in_page: bool = False,
    width: int = WIDTH,
) -> str:  # fmt: skip
    """Return a drawing as a whole SVG: the room's table under it, its fonts, its textures, its words.

    in_page: the page has the fonts already.
    """
    name, told = clean(title), clean(description)
    family = "Commissioner, system-ui, sans-serif"
    role = "group" if in_page else "img"  # an image hides from a voice what is in it, links too
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" '
        f'height="{height}" role="{role}" aria-label={quoteattr(name)} font-family="{family}">'
    )
    words = f"<title>{escape(name)}</title><desc>{escape(told)}</desc>"
    words += "" if in_page else f"<style>{font_faces()}</style>"
    table = f'<rect fill="{room.table}" width="{width}" height="{height}"/>'
    return f"{head}{words}{textures(room)}{table}{drawing}</svg>\n"


def describe(pull: Pull, comma: bool = False) -> str:
    """Return the sheet in words, for whoever hears the picture instead of seeing it."""
    results = f"{static_words(pull, comma=comma)}; {kinetic_words(pull, comma=comma)}"
    reasons: Iterable[str] = (m.reason for m in (pull.breakaway.force, pull.plateau.force) if m.reason)
    told = "; ".join([results, *reasons])
    happened = what_happened(pull, comma=comma)
    return f"{told}. Verdict: {pull.verdict}. {happened} {next_time(pull.findings)}"


def _hole_label(strip: Strip, ground: Ground, room: Room, comma: bool) -> list[Label]:
    """Return what a hole stands for, at the right or left end of the flags' row, if there is room."""
    word = hole_words(hole_step_s(strip.axes), comma=comma)
    right = Label(text=word, x=WIDTH - 16, y=TEXT_Y + 4, size=DESK, colour=room.soft, anchor="end")
    left = Label(text=word, x=16, y=TEXT_Y + 4, size=DESK, colour=room.soft)
    middle = Label(text=word, x=WIDTH / 2, y=TEXT_Y + 4, size=DESK, colour=room.soft, anchor="middle")
    found = first_free(ground, [right, left, middle])
    return [found] if found else []
