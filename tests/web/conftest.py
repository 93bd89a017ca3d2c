"""One browser a module, and no page of one test still drawing while the next runs."""

import pytest


@pytest.fixture(scope="module")
def running():
    # Here, so that without the dependency group `test` only the tests that need a browser are skipped.
    from web.browser import browser

    with browser() as ours:
        yield ours


@pytest.fixture(autouse=True)
def _pages_closed(request):
    yield
    if "running" in request.fixturenames:
        for context in request.getfixturevalue("running").contexts:
            context.close()
