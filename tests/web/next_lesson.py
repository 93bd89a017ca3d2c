"""A bench that serves the next lesson's screens.  (Not a test module.)

The screens are modules of their own; where the page's shared files do not name them yet, the few lines are added
to a copy of them here, so that the screens can be tried before and after.
"""

import shutil
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from live.benches import demo_pulling
from pullbench.live import sheet_from_logbook
from pullbench.web import app
from pullbench.web.next_lesson import next_lesson_routes
from web import served as serving

STATIC = Path(app.__file__).parent / "static"
IMPORT = 'import { words } from "./words.js";'
SCREEN = "function screen(route, shared, more) {\n"
SHOW = "if (isNextLesson(route.screen)) return html`<${NextLesson} key=${route.screen} route=${route} ...${shared} />`;"
MAIN = (
    (IMPORT, f'import {{ isNextLesson, NextLesson }} from "./next-lesson.js";\n{IMPORT}'),
    (SCREEN, f"{SCREEN}  {SHOW}\n"),
)
ROUTES = (
    ('"help", "join"]', '"help", "join", "required"]'),
    ('if (screen === "pull") {', 'if (screen === "pull" || screen === "forces") {'),
)
WORDS = (
    (
        'join: "Follow along",',
        'join: "Follow along", forces: "Free-body view", required: "Required / available",',
    ),
)


@contextmanager
def lesson(tmp_path, monkeypatch, *, label="simulated"):
    """Serve the demo day's first two pulls with the next lesson's screens."""
    static = tmp_path / "static"
    shutil.copytree(STATIC, static)
    for name, changes in (("main.js", MAIN), ("routes.js", ROUTES), ("words.js", WORDS)):
        text = (static / name).read_text("utf-8")
        if "next-lesson" in text or '"required"' in text or "Free-body view" in text:
            continue  # the shared file knows the screens
        for old, new in changes:
            assert old in text, (name, old)
            text = text.replace(old, new)
        (static / name).write_text(text, "utf-8")
    plain = app._questions

    def with_lesson(bench):
        routes = plain(bench)
        if any(getattr(one, "path", "") == "/required" for one in routes):
            return routes

        async def held(request):
            day = app._day(bench, request)
            number = request.path_params["number"]
            if day == bench.session.day:
                return await app.run_in_threadpool(bench.session.sheet, number)
            return await app.run_in_threadpool(
                sheet_from_logbook, app._logbook(bench), day, number, bench.reader
            )

        return [*next_lesson_routes(held), *routes]

    monkeypatch.setattr(app, "_questions", with_lesson)
    make = serving.make_app
    monkeypatch.setattr(serving, "make_app", lambda bench: make(replace(bench, static=static)))
    with serving.served(*demo_pulling(), label=label, room=True) as page:
        yield page
