# Waxend. Each target is a few lines over cargo and npm, and installs what is missing on the machine.
#
#   make run     builds everything and starts the server; an empty data folder is filled with the demo shop
#   make test    all tests: format, lints, Rust tests, the wasm build, the browsers
#   make test-all  the same, with all stories in WebKit too; `make test` runs there only those in which engines differ
#   make app     builds the app alone, into app/dist
#   make e2e     runs the browser tests alone     (make e2e ONLY="stories/shell --project webkit")
#   make bench   measures the figures in e2e/bench/FIGURES.md   (make bench ONLY=cold-start)
#   make pictures  takes the screenshots in README.md again
#   make kills   kills the server a thousand times under load; `make test` does it twenty times
#   make kills-app  kills the tab 200 times while it saves (KILLS=200); `make test` does it five times
#   make oracle  compares the trade's arithmetic and the bench plan with independent libraries, which it installs
#   make fixtures  writes the data that this version stores to tests/fixtures, for tests of later versions
#   make fuzz    runs every decoder on random input, five minutes each   (make fuzz SECONDS=20 ONLY="entry push")
#   make advisories  asks whether a library has a known vulnerability, with cargo-deny, which it installs
#   make fmt     formats the Rust code

TARGET := --target wasm32-unknown-unknown
WASM := --package app $(TARGET) --features csr
READER := --package reader $(TARGET)
ANALYTICS := --package analytics $(TARGET)
CLIPPY := -- --deny warnings
# The binaries, selected as the tests build them. Cargo builds each dependency with the features that all selected
# packages need, so another selection would compile hundreds of dependencies again.
BINARIES := --workspace --bins --test rules
BUNDLE = cargo run --quiet --package bundle --
# Notes how long a stage takes; `make test` and `make e2e` print the times at their end.
STAGE = tests/stages of
ONLY ?=
# Which stories run in WebKit (e2e/playwright.config.ts): `differing` ones or `all`; with ONLY, all that are named.
WEBKIT ?= $(if $(ONLY),all,differing)
KILLS ?= 200

.PHONY: run test test-all app app-wasm reader-wasm analytics-wasm contract contract-wasm e2e browsers kills kills-app pictures bench oracle fixtures fuzz advisories fmt lint rust binaries setup setup-tests

run: app
	cargo run --release --package server -- serve --demo-if-empty

browsers kills-app pictures: BUNDLE = target/debug/bundle

test:
	+@tests/stages over $(MAKE) --no-print-directory setup-tests lint rust browsers

test-all:
	+@tests/stages over $(MAKE) --no-print-directory setup-tests lint rust browsers WEBKIT=all

app: app-wasm analytics-wasm
	$(STAGE) "app, bundle" $(BUNDLE)

# Each module is built by itself: built together, each would get the features that the others need. Linking uses one core,
# so with `--jobs 2` two are built at the same time; app and reader have one profile, whose folder cargo locks.
app-wasm: reader-wasm
	+$(STAGE) "app, wasm" cargo build --lib $(WASM) --profile wasm-release

reader-wasm: setup
	+$(STAGE) "reader, wasm" cargo build --lib $(READER) --profile wasm-release

analytics-wasm: setup
	+$(STAGE) "analytics, wasm" cargo build --lib $(ANALYTICS) --profile wasm-quick

# The contract tests of the phone's database as a page. It has its own target folder, to be compiled while the app is.
contract: app contract-wasm
	mkdir -p target/contract/bundle
	cp -r target/bundle/reader target/bundle/analytics target/contract/bundle/
	$(STAGE) "contract, bundle" $(BUNDLE) --plain --out target/e2e/contract --cache target/contract/bundle \
	  --wasm target/contract/wasm32-unknown-unknown/wasm-release/contract.wasm

contract-wasm: setup
	+$(STAGE) "contract, wasm" cargo build --lib --package contract $(TARGET) --profile wasm-release --target-dir target/contract

e2e:
	+@tests/stages over $(MAKE) --no-print-directory browsers

# The app and the page are compiled at the same time, because linking and the optimiser each use one core.
# The server has the app embedded, as in a shop; a test that needs another build of the app passes its folder.
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
	mkdir -p target/oracle
	WAXEND_TAKEN_OUT=$(CURDIR)/target/oracle/taken-out.tar cargo test --package app-core --test store taken_out::a_shop
	tests/oracle/.venv/bin/python tests/oracle/taken_out.py target/oracle/taken-out.tar

fixtures:
	cargo build $(BINARIES) --example landed
	target/debug/examples/landed target/debug/waxend tests/fixtures

SECONDS ?= 300

fuzz:
	tests/fuzz/run $(SECONDS) $(ONLY)

# Licences, versions and sources are checked in every run, by the test tests/rules/dependencies.rs.
advisories:
	bash -c '. app/bundle/need.sh; need_cargo_tool deny=cargo-deny'
	cargo deny --locked check

fmt:
	cargo fmt --all

# The app is checked twice: as part of the server, which renders the card, and for the browser. The wasm is never built
# with `--workspace`, which would add the feature `ssr` that the server needs.
lint: setup
	$(STAGE) "format" cargo fmt --all --check
	$(STAGE) "clippy" cargo clippy --workspace --all-targets $(CLIPPY)
	$(STAGE) "clippy, wasm" cargo clippy --lib $(WASM) $(CLIPPY)

# The app's own tests cover the parts that need no browser. They are built with `ssr`, which the server needs.
rust: setup-tests binaries
	$(STAGE) "Rust tests, build" cargo test --workspace --no-run
	tests/stages rust "Rust tests" cargo test --workspace

binaries:
	$(STAGE) "Rust build" cargo build $(BINARIES)

setup:
	@+$(STAGE) "setup" app/bundle/setup

setup-tests: setup
	@$(STAGE) "setup of the tests" e2e/setup
