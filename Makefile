# Bevelbook. `make run` starts the app, `make test` passes all tests; the rest is for those who build it.
# Options for the app go in ARGS:  make run ARGS="--port 8090 --data ~/shop"

VENV := .venv
PY := $(VENV)/bin/python
ARGS ?=
# Compiled modules are kept even where a machine would not: otherwise each worker and each app that a test
# starts compiles them all anew.
unexport PYTHONDONTWRITEBYTECODE

.DEFAULT_GOAL := help
.PHONY: help run demo setup setup-test packages test quick check audit format coverage mutants torture bench house record pictures lock

help: ## this list
	@sed -n 's/^\([a-z-]*\):.*## \(.*\)/  make \1\t\2/p' $(MAKEFILE_LIST) | expand -t 20

run: packages setup ## set up and serve the shop on this computer
	@$(PY) -m app $(ARGS)

demo: packages setup ## serve an invented sample shop from a throw-away folder
	@$(PY) -m app demo $(ARGS)

setup: ## only make .venv, with what the app needs
	@sh .make/venv run

setup-test: ## the same, with the tools for tests and checks too
	@sh .make/venv test

packages:
	@sh .make/packages run

test: setup-test ## set up and run every test
	@sh .make/packages test
	@$(PY) -m pytest -n auto --dist loadfile --no-loadscope-reorder $(ARGS)

quick: setup-test ## the unit tests and the laws, in a minute
	@BEVELBOOK_EXAMPLES=quick $(PY) -m pytest -q -m "not documents and not poppler and not slow" -n auto --dist loadfile tests/unit tests/property $(ARGS)

check: setup-test ## lint, format, types, and which part may import which
	@$(PY) -m ruff check .
	@$(PY) -m ruff format --check .
	@$(PY) -m mypy $(wildcard app seed_demo)
	@$(VENV)/bin/lint-imports --no-cache --no-logo

audit: setup-test ## look for known holes in what the lock file names
	@sh .make/audit

format: setup-test ## put every file into the one format
	@$(PY) -m ruff check --fix .
	@$(PY) -m ruff format .

coverage: setup-test ## lines and branches of the pure half that its tests run, by room
	@rm -rf .coverage && mkdir .coverage
	@BEVELBOOK_EXAMPLES=quick $(PY) -m coverage run -m pytest -q -p tests.benchmarks.contexts -n auto --dist loadfile tests/unit tests/property $(ARGS)
	@$(PY) -m coverage combine -q
	@$(PY) -m tests.benchmarks.covered

mutants: setup-test ## do tests notice a fault in the pure half: ARGS="app/money --sample 50 --seed 2"
	@[ -f .coverage/data ] || $(MAKE) --no-print-directory coverage ARGS=
	@nice $(PY) -m tests.benchmarks.mutants $(ARGS)

torture: setup-test ## kill it, crowd it, feed it nonsense, break the machine: an hour, figures printed; ARGS="kills writes inputs faults"
	@$(PY) -m tests.torture $(ARGS)

bench: setup-test ## measure speed and memory, and print the figures
	@sh .make/packages test
	@$(PY) -m tests.benchmarks $(ARGS)

house: setup ## size of the app by room, and which files speak of a thing: ARGS="overlap"
	@$(PY) -m tests.benchmarks.house $(ARGS)

record: setup-test ## read the figures of the landed shops anew, and show what changed
	@sh .make/packages test
	@$(PY) -m tests.landed

pictures: setup-test ## take the README's pictures anew from the sample shop: ARGS="ticket bench"
	@sh .make/packages test
	@$(PY) -m tests.readme $(ARGS)

lock: ## write requirements.lock anew from pyproject.toml
	@sh .make/lock
