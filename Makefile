# Everything a maker or a developer does by hand. `make help` lists it.
# The virtual environment is made from the hashed locks in requirements/; nothing is installed outside it,
# except Debian's chromium for the browser tests, and that only as root and only where it is missing.

PYTHON ?= $(shell sh .ci/find-python)
VENV   ?= .venv
BIN    := $(VENV)/bin
FAST   := -m "not slow and not browser"
# Two workers; the tests of one file stay together, so that what they share is made once.
PYTEST := -m pytest -n 2 --dist loadfile
COMPILE := pip compile --quiet --universal --generate-hashes --no-emit-index-url --no-header \
           --python-version 3.11 --upgrade

.DEFAULT_GOAL := help
.PHONY: help site serve check test harden audit inspect bench engines words lock clean

help: ## list these targets
	@sed -n 's/^\([a-z]*\):.*## /  make \1\t/p' Makefile

site: $(VENV)/.run ## build the demo into site/next/
	@$(BIN)/python -m guidegen build
	@$(BIN)/python -m guidegen editions --anew -q

serve: $(VENV)/.run ## show the draft on this machine, follow every edit
	@$(BIN)/python -m guidegen serve

check: $(VENV)/.test ## fast tests, lint, types
	@$(BIN)/ruff check guidegen tests
	@$(BIN)/ruff format --check guidegen tests
	@$(BIN)/mypy
	@$(BIN)/python $(PYTEST) $(FAST)

test: $(VENV)/.test ## every test, a browser included
	@sh .ci/find-chromium
	@$(BIN)/ruff check guidegen tests
	@$(BIN)/ruff format --check guidegen tests
	@$(BIN)/mypy
	@$(BIN)/python $(PYTEST)

harden: $(VENV)/.test ## all of what `make test` takes a share of: many hours; GUIDEGEN_KILLS, GUIDEGEN_FUZZ say how many
	@GUIDEGEN_HARDEN=1 $(BIN)/python -m pytest -n 2 --dist load tests/mutants tests/properties \
	  tests/unit/workshop/test_editor_properties.py tests/unit/assess/test_withheld.py tests/site/test_surroundings.py tests/site/test_surroundings_real.py \
	  tests/site/test_language.py \
	  tests/site/test_kills.py

audit: ## ask pip-audit for known faults of what is installed beside it; says so where it cannot be asked
	@sh .ci/audit

inspect: $(VENV)/.test ## every page by vnu, axe and Lighthouse: needs npm and Java, an hour
	@sh .ci/find-chromium
	@$(BIN)/python -m tests.inspect_site

bench: $(VENV)/.test ## ratios against named peers, measured in the same run
	@$(BIN)/python -m tests.bench

engines: $(VENV)/.run ## build with the other engines and compare the text of every page
	@$(BIN)/python tests/engines.py

words: $(VENV)/.run ## collect the words of the interface into guidegen/locale/
	@$(BIN)/python -m guidegen.language

lock: $(VENV)/.run ## resolve the dependencies anew into the hashed locks
	@$(BIN)/pip install --quiet uv
	@$(BIN)/uv $(COMPILE) pyproject.toml requirements/build.in -o requirements/run.txt
	@$(BIN)/uv $(COMPILE) --extra test pyproject.toml requirements/build.in -o requirements/test.txt

clean: ## remove what was built, the environment and the caches
	@rm -rf $(VENV) .guidegen site/next .pytest_cache .mypy_cache .ruff_cache .hypothesis
	@find . -name __pycache__ -type d -prune -exec rm -rf {} +

# --- the environment ---------------------------------------------------------------------------------

$(BIN)/python:
	@test -n "$(PYTHON)" || { echo "guidegen needs Python 3.11, 3.12 or 3.13; on Debian: apt install python3"; exit 3; }
	@$(PYTHON) -c "import venv, ensurepip" 2>/dev/null || \
	  { echo "Python's venv module is missing; on Debian: apt install python3-venv"; exit 3; }
	@$(PYTHON) -m venv $(VENV)

$(VENV)/.run: requirements/run.txt pyproject.toml | $(BIN)/python
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/run.txt
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	@touch $@

$(VENV)/.test: requirements/test.txt $(VENV)/.run
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/test.txt
	@touch $@
