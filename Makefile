# Every act of a developer. The work is done by tools/bootstrap.py and the tools in .venv.
PYTHON ?= python3
BIN := .venv/bin
RUN := $(PYTHON) tools/bootstrap.py run
QUICK := tests/asking tests/published tests/exposure/test_meter.py tests/exposure/test_ledger.py tests/chemistry/test_strength.py tests/house/test_layers.py::test_imports_go_down_only
DEV := $(PYTHON) tools/bootstrap.py dev

.PHONY: run dev quick test slow check lint types layers fresh lock vendor docs pictures bench wheel

run:      ## environment, then the server on this computer
	@$(RUN)
	@exec $(BIN)/silverwright serve

dev:      ## the environment with everything that tests and checks need
	@$(DEV)

quick:    ## the rules of imports and every published figure, in a moment (< 5 s)
	@$(DEV)
	@$(BIN)/pytest $(QUICK) --hypothesis-profile=quick -m "not slow and not browser" -p no:cacheprovider -p no:anyio

test:     ## every test but the slow ones; brings Chromium
	@$(DEV)
	@$(PYTHON) tools/bootstrap.py browser
	@$(BIN)/pytest -m "not slow"

slow:     ## calibrations, long oracles, kills
	@$(DEV)
	@$(BIN)/pytest -m slow

lint:
	@$(DEV)
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .

types:
	@$(DEV)
	@$(BIN)/mypy src tools tests trials

layers:
	@$(DEV)
	@$(BIN)/lint-imports

fresh:    ## the generated documents say what the code says
	@$(DEV)
	@$(BIN)/python tools/reference.py --check

check: lint types layers test slow fresh  ## all of it

docs:     ## write docs/reference and docs/glossary.md, and what the other documents show of their commands
	@$(DEV)
	@$(BIN)/python tools/reference.py
	@$(BIN)/python tools/documents.py --write

lock:     ## new requirements.lock and requirements-dev.lock (needs uv)
	@$(PYTHON) tools/bootstrap.py lock

vendor:   ## front-end files from exact versions (needs npm)
	@$(DEV)
	@$(BIN)/python tools/vendor.py

pictures: ## the README's pictures, taken anew in a browser
	@$(DEV)
	@SILVERWRIGHT_PICTURES=1 $(BIN)/pytest tests/pages/test_screenshots.py

bench:    ## measure, and write docs/measured.md
	@$(DEV)
	@$(BIN)/python -m tools.bench

wheel:    ## build the wheel, install it beside the lock, and try it
	@$(DEV)
	@$(BIN)/python -m tools.wheel
