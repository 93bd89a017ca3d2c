# One-liners for everything. `make demo` and `make test` are all a newcomer needs.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: help demo browser test screens lint bench accuracy fuzz clean

help: ## Say what there is
	@grep -E '^[a-z]+:.*##' $(MAKEFILE_LIST) | awk -F':.*## ' '{printf "  make %-8s %s\n", $$1, $$2}'

$(VENV)/made: pyproject.toml
	$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "pullbench needs Python 3.11 or newer")'
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --upgrade pip
	$(BIN)/python -m pip install --quiet --editable '.[plots,pdf]' --group test --group lint
	@touch $@

# In a terminal the page stays until Ctrl-C; without one the demo ends by itself.
demo: $(VENV)/made ## The invented demo day: recordings read, laws argued with faults planted, sheets made, then the virtual bench on watch
	$(BIN)/python examples/demo_day.py demo-day
	@if [ -t 1 ]; then $(BIN)/pullbench watch --virtual --port 0; else $(BIN)/pullbench watch --virtual --plain --for 25s; fi

# The page is tested in a real browser: Chromium from the system's packages, fetched where we may.
browser:
	@command -v chromium chromium-browser >/dev/null || { [ "$$(id -u)" = 0 ] && apt-get update -qq && apt-get install -y -qq --no-install-recommends chromium >/dev/null; } || echo "No Chromium: the tests of the page will say so. Install the package chromium."

test: $(VENV)/made browser ## All tests
	$(BIN)/python -m pytest -q -n auto

screens: $(VENV)/made browser ## Pictures of every screen, for a person to look at, into screens/
	$(BIN)/python examples/screens.py screens

lint: $(VENV)/made ## Format, style, types, import contracts, spelling
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/codespell src tests docs examples benchmarks fuzz README.md ARCHITECTURE.md CHANGELOG.md CONTRIBUTING.md

bench: $(VENV)/made ## Accuracy and speed beside peers, in one run
	$(BIN)/python -m pip install --quiet --editable '.[fast]' --group bench
	$(BIN)/python -m benchmarks

PULLS ?= 6000
accuracy: $(VENV)/made ## The reader far outside its tests, into docs/accuracy.md (PULLS=6000: ten minutes)
	$(BIN)/python -m pip install --quiet --editable '.[fast]' --group bench
	$(BIN)/python -m benchmarks.wide --pulls $(PULLS)

fuzz: $(VENV)/made ## A bounded, coverage-guided attack on the reader
	$(BIN)/python fuzz/fuzz_tables.py 60

clean: ## Remove what the others made
	rm -rf $(VENV) demo-day
