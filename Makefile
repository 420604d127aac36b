# Waxend. Each target is a line or two over cargo and npm, and installs what it finds missing.
#
#   make run     build everything and open the shop on this machine, with a demo when it is empty
#   make test    everything: format, lints, Rust tests, the wasm build, the browsers
#   make test-all  the same, with every story in WebKit too; `make test` has there those in which engines differ
#   make app     the app alone, into app/dist
#   make e2e     the browser tests alone          (make e2e ONLY="stories/shell --project webkit")
#   make bench   the figures in e2e/bench/FIGURES.md   (make bench ONLY=cold-start)
#   make pictures  the screenshots in README.md, taken anew by the browser
#   make kills   a thousand kills of the server under load; `make test` has twenty
#   make kills-app  the tab killed 200 times in the middle of saving (KILLS=200); every test run does it five times
#   make oracle  the trade's arithmetic and the bench plan against independent libraries, which it installs
#   make fixtures  what this version keeps, written down for later ones to read (tests/fixtures)
#   make fuzz    every decoder given what nobody meant, five minutes each   (make fuzz SECONDS=20 ONLY="entry push")
#   make fmt     formats the Rust code

TARGET := --target wasm32-unknown-unknown
WASM := --package app $(TARGET) --features csr
READER := --package reader $(TARGET)
ANALYTICS := --package analytics $(TARGET)
CLIPPY := -- --deny warnings
# The binaries as the tests build them: cargo gives dependencies the features that all of a selection want, so another selection
# (a package alone, or without what tests need) would compile hundreds of them once more.
BINARIES := --workspace --bins --test rules
BUNDLE = cargo run --quiet --package bundle --
# Notes how long a stage takes; `make test` and `make e2e` tell at their end.
STAGE = tests/stages of
ONLY ?=
# Which stories WebKit tells (e2e/playwright.config.ts): `differing`, or all; what is asked for by name is told.
WEBKIT ?= $(if $(ONLY),all,differing)
KILLS ?= 200

.PHONY: run test test-all app apart contract contract-wasm e2e browsers kills kills-app pictures bench oracle fixtures fuzz fmt lint rust binaries setup setup-tests

run: app
	cargo run --release --package server -- serve --demo-if-empty

browsers kills-app pictures: BUNDLE = target/debug/bundle

test:
	+@tests/stages over $(MAKE) --no-print-directory setup-tests lint rust browsers

test-all:
	+@tests/stages over $(MAKE) --no-print-directory setup-tests lint rust browsers WEBKIT=all

app: apart
	+$(STAGE) "app, wasm" cargo build --lib $(WASM) --profile wasm-release
	$(STAGE) "app, bundle" $(BUNDLE)

# Modules beside the app, and built apart from it: together, one's features would weigh on the other.
apart: setup
	+$(STAGE) "reader, wasm" cargo build --lib $(READER) --profile wasm-release
	+$(STAGE) "analytics, wasm" cargo build --lib $(ANALYTICS) --profile wasm-quick

# The suite of the phone's database as a page. A folder of its own, so that it is compiled beside the app.
contract: app contract-wasm
	mkdir -p target/contract/bundle
	cp -r target/bundle/reader target/bundle/analytics target/contract/bundle/
	$(STAGE) "contract, bundle" $(BUNDLE) --plain --out target/e2e/contract --cache target/contract/bundle \
	  --wasm target/contract/wasm32-unknown-unknown/wasm-release/contract.wasm

contract-wasm: apart
	+$(STAGE) "contract, wasm" cargo build --lib --package contract $(TARGET) --profile wasm-release --target-dir target/contract

e2e:
	+@tests/stages over $(MAKE) --no-print-directory browsers

# The app and the page are compiled side by side: linking works on one core, and so does the optimiser.
# The server carries the app inside, as a shop's does; a test that wants another build of the app names its folder.
browsers: setup-tests binaries
	$(MAKE) --jobs 2 BUNDLE="$(BUNDLE)" contract
	$(STAGE) "server with the app inside" cargo build $(BINARIES) --features server/embed
	$(STAGE) "browser tests, types" npm --prefix e2e run --silent check
	WAXEND_BIN=$(CURDIR)/target/debug/waxend WAXEND_WEBKIT=$(WEBKIT) \
	  $(STAGE) "browser tests" npm --prefix e2e run --silent test -- $(ONLY)

kills-app: setup-tests binaries app
	cd e2e && WAXEND_BIN=$(CURDIR)/target/debug/waxend WAXEND_KILLS=$(KILLS) npm run --silent test -- chromium/kills

pictures: setup-tests binaries app
	cd e2e && WAXEND_BIN=$(CURDIR)/target/debug/waxend npm run --silent test -- chromium/readme
	mkdir -p e2e/pictures/readme
	for name in bench camera open-up pair card; do \
	  cp e2e/pictures/made/readme-$$name-chromium.png e2e/pictures/readme/$$name.png; done

bench: setup-tests app
	cargo build --release --package server
	cd e2e && WAXEND_BIN=$(CURDIR)/target/release/waxend WAXEND_BENCH="$(ONLY)" npm run --silent bench

kills:
	WAXEND_KILLS=$${WAXEND_KILLS:-1000} cargo test --package server --test http -- crash --nocapture

oracle:
	tests/oracle/setup
	cargo build --package server
	tests/oracle/.venv/bin/python tests/oracle/compare.py $${CARGO_TARGET_DIR:-target}/debug/waxend
	cargo build --release --package server
	tests/oracle/.venv/bin/python tests/oracle/plan.py $${CARGO_TARGET_DIR:-target}/release/waxend

fixtures:
	cargo build $(BINARIES) --example landed
	target/debug/examples/landed target/debug/waxend tests/fixtures

SECONDS ?= 300

fuzz:
	tests/fuzz/run $(SECONDS) $(ONLY)

fmt:
	cargo fmt --all

# Twice the app: as the server renders the card, and for the browser. `--workspace` is never for the wasm.
lint: setup
	$(STAGE) "format" cargo fmt --all --check
	$(STAGE) "clippy" cargo clippy --workspace --all-targets $(CLIPPY)
	$(STAGE) "clippy, wasm" cargo clippy --lib $(WASM) $(CLIPPY)

# The app's own tests are of its rooms that need no browser; the server brings `ssr` with it, for the card.
rust: setup-tests binaries
	$(STAGE) "Rust tests, build" cargo test --workspace --no-run
	tests/stages rust "Rust tests" cargo test --workspace

binaries:
	$(STAGE) "Rust build" cargo build $(BINARIES)

setup:
	@+$(STAGE) "setup" app/bundle/setup

setup-tests: setup
	@$(STAGE) "setup of the tests" e2e/setup
