# Two commands: `make run` shows the main job on the demo case, `make test` runs every test.
# Everything lives in .venv; what needs root is one printed line.

PYTHON ?= $(firstword $(foreach name,python3.11 python3.12 python3.13 python3.14 python3,$(shell command -v $(name) 2>/dev/null)))
BIN := .venv/bin
PIP := $(BIN)/python -m pip install --quiet --disable-pip-version-check
CASE ?= examples/hard-second-eye.toml
PRACTICE ?= examples/practice.toml

.PHONY: run test lint bench soak schemas docs clean

run: .venv/run-ready
	@$(BIN)/zonule plan $(CASE) --practice $(PRACTICE)

test: .venv/test-ready lint
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
