# Needs only Python 3.11+, git and make. README.md shows the same without make.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: demo test check setup setup-dev lock clean

demo: setup
	$(BIN)/hundredfold demo

test: setup-dev
	$(BIN)/python -m pytest -n auto --dist loadgroup

check: setup-dev
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

setup: $(VENV)/.ready
setup-dev: $(VENV)/.ready-dev

$(VENV)/.ready: requirements/base.lock pyproject.toml
	test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --require-hashes -r requirements/base.lock
	$(BIN)/python -m pip install --quiet --no-deps --no-build-isolation --editable .
	touch $@

$(VENV)/.ready-dev: requirements/dev.lock $(VENV)/.ready
	$(BIN)/python -m pip install --quiet --require-hashes -r requirements/dev.lock
	$(BIN)/python tools/test_tools.py
	touch $@

# For the maintainer: needs uv on the PATH. One lock for Linux, macOS and Windows.
lock:
	uv pip compile --universal --generate-hashes --python-version 3.11 pyproject.toml requirements/build.in -o requirements/base.lock
	uv pip compile --universal --generate-hashes --python-version 3.11 --group dev -c requirements/base.lock -o requirements/dev.lock

clean:
	rm -rf $(VENV) build dist demo-shop
