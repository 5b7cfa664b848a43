# Two commands: `make run` shows the plan of the demo case, on the terminal and as a page;
# `make test` runs every test. `make run ONCE=1` ends after the page has answered.
# Everything lives in .venv; what needs root is one printed line.

PYTHON ?= $(firstword $(foreach name,python3.11 python3.12 python3.13 python3.14 python3,$(shell command -v $(name) 2>/dev/null)))
BIN := .venv/bin
PIP := $(BIN)/python -m pip install --quiet --disable-pip-version-check
CASE ?= examples/hard-second-eye.toml
PRACTICE ?= examples/practice.toml

.PHONY: run test browser lint bench soak schemas docs pictures clean

# Status 1 says that a power is withheld or a file has faults: the page says so too.
run: .venv/run-ready
	@$(BIN)/zonule plan $(CASE) --practice $(PRACTICE) || test $$? -eq 1
	@$(BIN)/zonule serve $(dir $(CASE)) --practice $(PRACTICE) --show $(notdir $(basename $(CASE))) $(if $(ONCE),--once)

test: .venv/test-ready browser lint
	@$(BIN)/pytest -n 2 --dist loadfile

lint: .venv/test-ready
	@$(BIN)/ruff check
	@$(BIN)/ruff format --check
	@$(BIN)/mypy
	@$(BIN)/lint-imports

bench: .venv/test-ready
	@$(BIN)/python -m benchmarks

soak: .venv/test-ready
	@$(BIN)/python -m benchmarks.soak

docs: .venv/test-ready
	@$(BIN)/python -m tools.refresh_docs

pictures: .venv/test-ready browser
	@$(BIN)/python -m tools.pictures
	@$(BIN)/python -m tools.sheet_pictures

clean:
	rm -rf .venv .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache

# ---------------------------------------------------------------- setting up

.venv/pyvenv.cfg:
	@test -n "$(PYTHON)" || { echo "Python 3.11 or newer is missing. As root: apt-get install -y python3 python3-venv"; exit 1; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "$(PYTHON) is older than Python 3.11. As root: apt-get install -y python3.11 python3.11-venv"; exit 1; }
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || { echo "Python's venv is missing. As root: apt-get install -y python3-venv"; exit 1; }
	@echo "Setting up .venv (once)"
	@$(PYTHON) -m venv .venv

.venv/run-ready: .venv/pyvenv.cfg lock-run.txt pyproject.toml
	@$(PIP) --require-hashes -r lock-run.txt
	@$(PIP) --no-deps --no-build-isolation -e .
	@touch $@

.venv/test-ready: .venv/pyvenv.cfg lock-test.txt pyproject.toml
	@$(PIP) --require-hashes -r lock-test.txt
	@$(PIP) --no-deps --no-build-isolation -e .
	@touch .venv/run-ready $@

# The browser of the tests: Debian's own, or the one that ZONULE_CHROMIUM names.
CHROMIUM := chromium
APT := apt-get update -qq && apt-get install -y -qq --no-install-recommends $(CHROMIUM)

browser:
	@if test -n "$${ZONULE_CHROMIUM:-}" || command -v $(CHROMIUM) >/dev/null; then :; \
	elif ! command -v apt-get >/dev/null; then echo "Chromium is missing, which the tests of the pages need. Install it, and name it with ZONULE_CHROMIUM."; exit 1; \
	elif test "$$(id -u)" -eq 0; then echo "Installing Chromium for the tests of the pages (once)"; $(APT); \
	elif sudo -n true 2>/dev/null; then echo "Installing Chromium for the tests of the pages (once)"; sudo -n sh -c '$(APT)'; \
	else echo "Chromium is missing, which the tests of the pages need. As root: apt-get install -y --no-install-recommends $(CHROMIUM)"; exit 1; fi
