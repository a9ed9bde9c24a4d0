# What can be done here; each may be run again at any time.
#
#   make install   .venv with the pinned packages, stunline itself, the compiled laws
#   make demo      the shipped positions → tables, JSON and drawings in out/
#   make test      every check that a change must pass
#   make campaign  the long comparisons
#   make bench     timings
#   make compare   the same shots in general engines, which it installs as well
#   make docs      the documentation as pages in docs/_build/html

PYTHON ?= python3
UV ?= uv
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet
CHECKERS := tools/client/node_modules
KERNELS := $(wildcard src/stunline/mechanics/*.py)

.PHONY: install demo test campaign bench compare docs requirements clean
.DEFAULT_GOAL := install
.DELETE_ON_ERROR:

install: $(VENV)/compiled.stamp

# The stamps stand inside .venv: whoever deletes it starts afresh.
$(VENV)/created.stamp: tools/make_environment.py
	@command -v $(PYTHON) >/dev/null || { echo "stunline needs Python 3.11 or newer, and '$(PYTHON)' was not found: install it, or say which to use with make install PYTHON=/path/to/python3.11" >&2; exit 1; }
	@$(PYTHON) tools/make_environment.py $(VENV)
	@touch $@

$(VENV)/runtime.stamp: $(VENV)/created.stamp requirements.txt
	@echo "installing the pinned packages (about 300 MB) into $(VENV)"
	@$(PIP) install --require-hashes -r requirements.txt
	@touch $@

$(VENV)/package.stamp: $(VENV)/runtime.stamp pyproject.toml src/stunline/__init__.py
	@echo "installing stunline in place"
	@$(PIP) install --no-deps --no-build-isolation --editable .
	@touch $@

$(VENV)/compiled.stamp: $(VENV)/package.stamp $(KERNELS)
	@$(BIN)/python -m stunline.shot.warm_up
	@touch $@

$(VENV)/development.stamp: $(VENV)/package.stamp requirements-dev.txt
	@echo "installing the pinned packages for checks and docs"
	@$(PIP) install --require-hashes -r requirements-dev.txt
	@touch $@

# Needed by nobody who uses stunline, only by the checks of its page; where there is no npm,
# they are left out, which tools/check_everything.py says.
$(CHECKERS)/installed.stamp: tools/client/package-lock.json
	@! command -v npm >/dev/null || { echo "installing the pinned packages that check the page's code" && npm --prefix tools/client ci --ignore-scripts --silent && touch $@; }

$(VENV)/comparison.stamp: $(VENV)/package.stamp requirements-compare.txt
	@echo "installing the pinned packages that stunline is compared with"
	@$(PIP) install --require-hashes -r requirements-compare.txt
	@touch $@

demo: install
	@$(BIN)/python tools/demo.py

test: install $(VENV)/development.stamp $(CHECKERS)/installed.stamp
	@$(BIN)/python tools/check_everything.py

campaign: install $(VENV)/development.stamp
	$(BIN)/python -m pytest campaigns
	@for script in $(sort $(wildcard campaigns/run_*.py)); do $(BIN)/python $$script || exit 1; done
	$(BIN)/python campaigns/run_random_shots.py --full

bench: install $(VENV)/development.stamp
	$(BIN)/python -m pytest benchmarks

compare: install $(VENV)/comparison.stamp
	$(BIN)/python benchmarks/compare_engines.py

docs: install $(VENV)/development.stamp
	$(BIN)/python -m sphinx -W --keep-going -b html docs docs/_build/html
	@echo "$(CURDIR)/docs/_build/html/index.html"

# Pins everything again, with hashes and without the addresses of registries.
PIN := $(UV) pip compile pyproject.toml --universal --python-version 3.11 --generate-hashes --no-emit-index-url --no-header --quiet
requirements:
	$(PIN) --group build -o requirements.txt
	$(PIN) --group build --group dev -c requirements.txt -o requirements-dev.txt
	$(PIN) --group build --group compare -c requirements-dev.txt -o requirements-compare.txt

clean:
	rm -rf $(VENV) out docs/_build build dist
