# Larderlamp. `make help` lists the targets. Go and make are enough to build and
# run; the tests also need three browsers, which `make browser` installs, and npm.

PORT ?= 8080
PREFIX ?=
TEXTS ?=
CONTACT ?=
CHROME ?=
GO ?= go
PAGES := build/app.wasm
OVERLAY := build/slim/overlay.json

# One way to compile everything, so that nothing is compiled twice.
export GOFLAGS := $(GOFLAGS) -trimpath

# The program of the pages is built with libraries without what a page never runs.
# Screens and pictures are long chains of calls that run at most once per frame:
# inlining them makes the program 7 % larger and not noticeably faster. Without the name
# that Go gives a build, and that of its commit, the same sources are the same edition,
# wherever they are and come from.
SLIM := -tags slim -buildvcs=false -modfile=build/slim/go.mod -overlay='$(OVERLAY)' -ldflags='-s -w -buildid=' $(foreach p,larderlamp/app/... larderlamp/rules/keeping larderlamp/rules/packing larderlamp/rules/practice larderlamp/rules/prose larderlamp/rules/tally \
	github.com/google/uuid github.com/hack-pad/... github.com/maxence-charriere/... rsc.io/qr/... \
	bytes context encoding/csv encoding/hex fmt html internal/fmtsort internal/poll internal/strconv io/fs log net/url os strings time,-gcflags='$(p)=-l') $(foreach p,record pantry walk travel,-gcflags='larderlamp/app/$(p)=')
WASM := GOOS=js GOARCH=wasm
BIN := $(CURDIR)/build/bin
# Named before any rule needs it: what a rule depends on is read when make reads the rule.
WINDOW := build/webkit-window
AXE := build/axe/node_modules/axe-core/axe.min.js
NGINX := build/nginx/usr/sbin/nginx
LIGHTHOUSE := build/lighthouse/node_modules/.bin/lighthouse
# Packages with tests that need IndexedDB, and so a browser.
IN_BROWSER := ./app/store/...
# Pure packages, which are tested a second time as WebAssembly.
AS_WASM := ./rules/... ./app/record/... ./app/pantry/... ./app/walk/... ./app/travel/... ./app/todo/... ./app/tables/... ./app/backup/... ./app/demo/... ./app/draw/...
# Tests of these packages that walk the same tables for many seconds and would only
# be slower as WebAssembly: `make unit` runs them natively, and `make prove` runs
# the proofs among them as WebAssembly too.
NATIVE := ^Test(ALargerJarNeverNeedsLess|BriefIsNeverMilder|Decides|EveryDiscardIsDisposedOf|EveryExactRecord|EveryFieldOfABackup|EverySourceIsCited|FromACheckOntoTheShelf|ItemsAreTheEvaluatorsAndTwinsDifferInOneSign|NarrowedDecks|NobodyIsAskedTheSameTwice|OmissionsNeverSoften|OneDeadlineTheStrictest|ProveTreeEqualsEngine|ProveUnknownIsSound|ProveWorseIsNeverMilder|RowIsBalancedAndMeetsEveryRule|SetKeeps|WalkSurvivesAnything)$$
# The tests that prove something of every situation.
PROOFS := Prove|Proof
# Packages with tests of whole flows in a browser, and others that need a browser.
FLOWS := ./app/e2e
HOSTED := ./app/e2e/drive/... ./wasm/hosting
# The environment of those tests.
ON_PAGES = PATH="$(BIN):$$PATH" WEBKIT_WINDOW='$(CURDIR)/$(WINDOW)' PROGRAMS='$(CURDIR)/build' SITE='$(CURDIR)/build/site' SHARE='$(CURDIR)/build/share' AXE='$(CURDIR)/$(AXE)' NGINX_PROGRAM='$(CURDIR)/$(NGINX)'

# Targets are made one after the other, whatever -j says: CI has two processors, and
# `test` itself decides what runs in parallel.
.NOTPARALLEL:
.DEFAULT_GOAL := help
.PHONY: help notices run share build publish stick test lint formatted vet dead flows hosted unit exchange load fuzz solver wasm-test browser-test e2e lost broken browser size start serving bench engines prove lighthouse diffrules texts clean npm FORCE

help: ## list the targets
	@sed -n 's/^\([a-z0-9-]*\):[^#]*## /\1	/p' $(MAKEFILE_LIST) | expand -t 16

run: build ## build and serve on this computer; PORT=8080
	build/site serve -addr 127.0.0.1:$(PORT) -prefix '$(PREFIX)' -texts '$(TEXTS)' -contact '$(CONTACT)'

build: notices $(PAGES) build/scan.wasm build/site ## build the program of the pages, the one that reads codes, and the command `site`

notices:
	@$(GO) run ./wasm/notices/write

# A packed program still says which sources it was linked from, and go build would take it
# for up to date: so it is packed into another file.
$(PAGES): FORCE
	$(GO) run ./wasm/slim build/slim
	$(WASM) $(GO) build $(SLIM) -o build/linked/app.wasm ./wasm/browser
	@$(GO) run ./wasm/pack build/linked/app.wasm $@

# Fetched only where the browser cannot read codes by itself.
build/scan.wasm: FORCE
	$(WASM) $(GO) build -buildvcs=false -ldflags='-s -w -buildid=' -o build/linked/scan.wasm ./wasm/scan
	@$(GO) run ./wasm/pack build/linked/scan.wasm $@

build/site: FORCE
	$(GO) build -o $@ ./wasm/site

# Built with the usual flags, so that savings from other flags count.
build/bare.wasm: FORCE
	$(WASM) $(GO) build -ldflags='-s -w' -o $@ ./wasm/bare/browser

publish: build ## write the site for a web host: DIR=folder PREFIX=/sub TEXTS=file CONTACT=address
	@test -n '$(DIR)' || { echo 'DIR is missing: make publish DIR=folder' >&2; exit 2; }
	build/site publish -prefix '$(PREFIX)' -texts '$(TEXTS)' -contact '$(CONTACT)' '$(DIR)'

FOR ?=
stick: build ## one program with the whole site, for a USB stick: FILE=path FOR=windows/amd64 TEXTS=file CONTACT=address
	@test -n '$(FILE)' || { echo 'FILE is missing: make stick FILE=path' >&2; exit 2; }
	GOOS=$(word 1,$(subst /, ,$(FOR))) GOARCH=$(word 2,$(subst /, ,$(FOR))) $(GO) build -o build/stick ./wasm/site
	build/site stick -binary build/stick -texts '$(TEXTS)' -contact '$(CONTACT)' '$(FILE)'

# Browsers take turns: no test may depend on how much processor time another needs.
# They wait for most of the time, and a browser uses about one of two processors,
# so everything that needs no browser runs at the same time, at a lower priority.
# What both sides need comes first, so that it is made once.
test: GOFLAGS += -vet=off # vet runs by itself
test: formatted browser build build/share $(WINDOW) $(AXE) $(NGINX) ## everything that has to pass
	@nice $(MAKE) vet dead unit exchange fuzz solver wasm-test INPUTS=50000 & native=$$!; \
	$(MAKE) flows browser-test hosted; browsers=$$?; wait $$native && exit $$browsers

lint: vet dead ## gofmt, vet for this computer with every tag and for the browser, staticcheck, dead code

formatted:
	@bad=$$(gofmt -l app rules static testdata wasm); test -z "$$bad" || { echo "not formatted:" $$bad >&2; exit 1; }

# Each tag only adds files, so one pass with every tag sees all of them.
vet: formatted
	$(GO) vet -tags 'e2e solver' ./...
	$(GO) -C wasm/share vet ./...
	$(WASM) $(GO) vet ./rules/... ./app/... ./static ./wasm/browser ./wasm/scan ./wasm/bare/browser

# What neither a test nor the command reaches is dead, except for what only the
# program of the pages reaches: parts of the package app. These three use only one
# processor for long stretches, so they run at the same time.
dead: $(BIN)/staticcheck $(BIN)/deadcode
	$(BIN)/deadcode -test -tags 'e2e solver' ./... >build/dead.txt & all=$$!; \
	GOOS=js GOARCH=wasm $(BIN)/deadcode -tags slim ./wasm/browser >build/dead-pages.txt & pages=$$!; \
	$(BIN)/staticcheck ./...; checked=$$?; wait $$all && wait $$pages && exit $$checked
	cd wasm/share && $(BIN)/staticcheck ./... && $(BIN)/deadcode -test ./... >'$(CURDIR)/build/dead-share.txt'
	@! { cat build/dead-share.txt; grep -v '^app/[a-z]*\.go:' build/dead.txt; grep -xFf build/dead-pages.txt build/dead.txt; } | sort -u | grep . >&2

$(BIN)/staticcheck:
	GOBIN=$(BIN) $(GO) install honnef.co/go/tools/cmd/staticcheck@v0.8.2

$(BIN)/deadcode:
	GOBIN=$(BIN) $(GO) install golang.org/x/tools/cmd/deadcode@v0.52.0

unit: ## unit, property and proof tests
	$(GO) test ./...

# A separate module, so that the plain site does not depend on what it needs. Node,
# which comes with npm, runs the script of the pages against the test vectors.
FAULTS ?= 6
exchange: npm ## test the exchange: what it keeps when servers fail and clients lie; FAULTS=6 moments
	FAULTS=$(FAULTS) $(GO) -C wasm/share test ./...

build/share: FORCE
	$(GO) -C wasm/share build -o '$(CURDIR)/$@' .

FOLDER ?= $(HOME)/larderlamp-log
HOST ?=
share: build build/share ## build and serve with the exchange, whose log is kept in FOLDER; PORT=8080, or HOST=name of this computer on the internet
	build/site publish -prefix '$(PREFIX)' -texts '$(TEXTS)' -contact '$(CONTACT)' build/shared
	build/share -site build/shared -folder '$(FOLDER)' $(if $(HOST),-host '$(HOST)',-addr '127.0.0.1:$(PORT)')

LOADS = $(GO) -C wasm/share test -run '^$$' -bench Load -benchtime 1x -timeout 30m .

load: ## compare the exchange with bare JetStream at 10, 1,000 and 10,000 households; at most 1.5 times the time, at least 0.7 times the rate
	@mkdir -p build
	@$(LOADS) | tee build/load.txt
	@$(BARS) -only BenchmarkLoad <build/load.txt

# What a target finds is kept in testdata/fuzz next to its test and runs as a test.
# The inputs are counted, because Go before 1.27 may report the end of a time limit as
# a failure, "context deadline exceeded", on a busy computer: go.dev/issue/75804.
INPUTS ?= 3000000
fuzz: ## fuzz every reader of files and addresses; INPUTS=3000000 each, a few minutes
	@grep -ro --include='*_test.go' '^func Fuzz[A-Za-z]*' app rules wasm | while IFS=: read -r file f; do \
		echo "$${file%/*}: $${f#func }"; \
		$(GO) -C "$${file%/*}" test -run '^$$' -fuzz "^$${f#func }$$" -fuzztime $(INPUTS)x . || exit 1; done

# An independent integer-program solver, for this test only.
TRIPS ?= 6
SOLVER := build/solver/node_modules/highs
solver: $(SOLVER) ## test the choice of jars for a trip against an independent solver; TRIPS=6
	TRIPS=$(TRIPS) SOLVER='$(CURDIR)/$(SOLVER)' $(GO) test -count=1 -tags solver -run IntegerProgram ./rules/packing

$(SOLVER): | npm
	npm install --ignore-scripts --no-audit --no-fund --prefix build/solver highs@1.15.3

# wasmbrowsertest is installed outside the module, because it needs an older
# chromedp than the end-to-end tests, and run with an empty environment, because
# a WebAssembly program accepts only 4 KB of it. Its complaints about an unknown
# IPAddressSpace are harmless. It finds one of Go's files by the path that it was
# built with, so it is built without -trimpath.
IN_PAGE = env -i 'HOME=$(HOME)' 'PATH=$(BIN):$(PATH)' wasmbrowsertest
$(BIN)/wasmbrowsertest:
	GOFLAGS='$(filter-out -trimpath,$(GOFLAGS))' GOBIN=$(BIN) $(GO) install github.com/agnivade/wasmbrowsertest@v0.11.0

# The same in Firefox, with the driver of the end-to-end tests.
IN_FIREFOX = $(CURDIR)/build/inpage firefox
build/inpage: FORCE
	$(GO) build -tags e2e -o $@ ./app/e2e/drive/inpage

wasm-test: | npm ## test the pure packages again, as WebAssembly in Node, which has Chromium's engine
	$(WASM) $(GO) test -p 1 -short -skip '$(NATIVE)' -exec "$$($(GO) env GOROOT)/lib/wasm/go_js_wasm_exec" $(AS_WASM)

browser-test: browser build/inpage $(BIN)/wasmbrowsertest ## test the store against the IndexedDB of Chromium and of Firefox
	$(WASM) $(GO) test -p 1 -exec "$(IN_PAGE)" $(IN_BROWSER)
	$(WASM) $(GO) test -p 1 -exec "$(IN_FIREFOX)" $(IN_BROWSER)

e2e: browser build build/share $(WINDOW) $(AXE) $(NGINX) flows hosted ## test whole flows in Chromium, Firefox and WebKit, with axe; LANGUAGE=es in Spanish

flows:
	@rm -rf build/kept build/hung.txt
	@$(ON_PAGES) $(GO) test -count=1 -timeout 40m -tags e2e $(FLOWS); passed=$$?; \
	if [ -f build/hung.txt ]; then echo 'flows: a browser hung and was started again:'; cat build/hung.txt; fi; exit $$passed

# `make unit` has run all of these that need no browser; the skipped one waits a long time.
hosted:
	$(ON_PAGES) $(GO) test -p 1 -count=1 -timeout 40m -tags e2e -skip '^TestStuckClientsAreLetGo$$' $(HOSTED)

MOMENTS ?= 200
lost: browser build $(WINDOW) $(AXE) ## kill the page or the browser at seeded moments; MOMENTS=200, or 60-90 for some of them
	MOMENTS=$(MOMENTS) $(ON_PAGES) $(GO) test -v -count=1 -timeout 2h -tags e2e -run Killed ./app/e2e

broken: browser build $(WINDOW) ## break every file of the site by itself, in every way and every engine
	BROKEN=all $(ON_PAGES) $(GO) test -v -count=1 -timeout 3h -tags e2e -run NoPageIsDead ./app/e2e

# axe-core is for the tests only. Only its one script is run, in the page under
# test.
$(AXE): | npm
	npm install --ignore-scripts --no-audit --no-fund --prefix build/axe axe-core@4.14.1

# nginx is for the tests only, so it is unpacked and not installed: nothing starts
# it as a service.
$(NGINX):
	@command -v apt-get >/dev/null || { echo 'there is no apt-get; put an nginx at $@' >&2; exit 1; }
	@mkdir -p build/nginx; cd build/nginx && { apt-get download -q nginx || { apt-get update -q && apt-get download -q nginx; }; } && dpkg -x nginx_*.deb .

# lighthouse is for this audit only; without its install scripts it downloads no browser.
$(LIGHTHOUSE): | npm
	npm install --ignore-scripts --no-audit --no-fund --prefix build/lighthouse lighthouse@12.8.2

lighthouse: browser build $(LIGHTHOUSE) ## audit the first page of each use; accessibility, best practices and SEO must be 100
	PATH="$(BIN):$$PATH" CHROME_PATH="$$(PATH="$(BIN):$$PATH"; command -v chromium || command -v chromium-browser || command -v google-chrome)" \
	$(GO) run ./wasm/lighthouse -tool $(LIGHTHOUSE)

npm:
	@command -v npm >/dev/null || { echo 'npm is missing: installing it with apt-get' >&2; \
		apt-get update -q && DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends npm; }

# All tests find Chromium in the path. $CHROME is put there under a known name, in
# one step, because tests that look for it may be running.
# Firefox and WebKit are Debian's; WebKit needs a screen, which Xvfb is.
browser: ## install whichever of Debian's chromium, firefox-esr, webkit2gtk-driver and xvfb is missing, with apt-get
	@mkdir -p $(BIN); \
	if [ -n '$(CHROME)' ]; then \
		command -v '$(CHROME)' >/dev/null || { echo 'CHROME is $(CHROME), which cannot be run' >&2; exit 1; }; \
		printf '#!/bin/sh\nexec "%s" "$$@"\n' "$$(command -v '$(CHROME)')" >$(BIN)/chromium.new; \
		chmod +x $(BIN)/chromium.new; \
		mv -f $(BIN)/chromium.new $(BIN)/chromium; \
	else rm -f $(BIN)/chromium; \
	fi; \
	missing=; \
	first() { package=$$1; shift; for c; do if found=$$(PATH="$(BIN):$$PATH" command -v $$c); then echo "browser: $$found"; return; fi; done; missing="$$missing $$package"; }; \
	first chromium chromium chromium-browser google-chrome; \
	first firefox-esr firefox-esr firefox; \
	first webkit2gtk-driver WebKitWebDriver; \
	first xvfb Xvfb; \
	if [ -n "$$missing" ]; then \
		echo "not found, and installed with apt-get:$$missing" >&2; \
		command -v apt-get >/dev/null || { echo 'there is no apt-get; install them by hand (and set CHROME to a Chromium of your own)' >&2; exit 1; }; \
		apt-get update -q && DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $$missing; \
	fi

# The window that WebKit is driven in; it needs no C compiler.
$(WINDOW): FORCE
	CGO_ENABLED=0 $(GO) build -tags e2e -o $@ ./app/e2e/drive/window

size: build build/bare.wasm ## compare the size of the program with a bare go-app page; at most 1.25 times
	build/site size build/bare.wasm build/app.wasm

# Reads what was measured and prints the table.
BARS := $(GO) run ./wasm/bars
STARTS = $(ON_PAGES) BARE_PROGRAM='$(CURDIR)/build/bare.wasm' $(GO) test -tags e2e -run '^$$' -bench Start -benchtime 9x -timeout 20m ./wasm/site
WEIGHS = PROGRAMS='$(CURDIR)/build' BARE_PROGRAM='$(CURDIR)/build/bare.wasm' $(GO) test -tags e2e -run '^$$' -bench Weight -benchtime 1x ./wasm/site

start: browser build build/bare.wasm ## compare the time to the first question with a bare go-app page; at most 1.15 times
	$(STARTS) | tee build/start.txt
	@$(BARS) -only BenchmarkStart <build/start.txt

SERVES = $(ON_PAGES) $(GO) test -tags e2e -run '^$$' -bench Serve -benchtime 21x ./wasm/hosting

serving: build $(NGINX) ## compare how fast `site serve` answers with a plain Go file server and nginx
	@$(SERVES) | tee build/serving.txt
	@$(BARS) -only BenchmarkServe <build/serving.txt

# A benchmark that fails is missing from the table, which then fails.
bench: browser build build/bare.wasm $(WINDOW) $(AXE) $(NGINX) $(BIN)/wasmbrowsertest ## measure every bar and print them in one table; none is part of the tests
	@echo 'measuring for several minutes; all output goes to build/bench.txt'
	@{ $(GO) test -run '^$$' -bench '^Benchmark(Evaluate|Reference)$$' -benchmem ./rules; \
	$(MAKE) -sk engines size prove; \
	$(WASM) $(GO) test -run '^$$' -bench '^Benchmark(Next|Reference)$$' -exec "$(IN_PAGE)" ./rules; \
	$(WEIGHS); \
	$(STARTS); \
	$(SERVES); \
	$(LOADS); \
	$(ON_PAGES) $(GO) test -tags e2e -run '^$$' -bench Bars -benchtime 1x ./app/e2e; \
	$(ON_PAGES) $(GO) test -v -count=1 -tags e2e -run '^Test(BeforeTheProgram|EveryPage|Axe|BreachesAreHeard)$$' ./app/e2e; \
	} >build/bench.txt 2>&1
	@$(BARS) <build/bench.txt

# A separate module, so that nothing it needs reaches the guide. `make lint` checks
# its format only: vetting it means compiling two large engines, so that is done
# here, and by `make bench`.
engines: ## compare the evaluator with two general expression engines and a plain switch
	cd rules/engines && $(GO) generate && $(GO) vet ./... && $(GO) test -v -bench . ./...

prove: browser $(BIN)/wasmbrowsertest ## prove the rules over every possible situation
	@$(GO) test -list '$(PROOFS)' ./rules/... | grep -q '^Test' || { echo 'no proof is named $(PROOFS)' >&2; exit 1; }
	$(GO) test -count=1 -v -run '$(PROOFS)' ./rules/...
	@echo 'the same as WebAssembly, in a browser:'
	$(WASM) $(GO) test -count=1 -short -v -run '$(PROOFS)' -exec "$(IN_PAGE)" ./rules

texts: ## write the list of texts for translation
	$(GO) test -count=1 -run 'TestTexts$$' ./app -update

diffrules: ## count the situations that became milder or stricter since a commit: BASE=commit
	@test -n '$(BASE)' || { echo 'BASE is missing: make diffrules BASE=commit' >&2; exit 2; }
	@rm -rf build/base; git worktree prune; git worktree add -q --detach build/base '$(BASE)'
	@test -d build/base/rules/internal/dump || { echo '$(BASE) is older than the dump of the rules' >&2; git worktree remove --force build/base; exit 1; }
	cd build/base && $(GO) run ./rules/internal/dump >../rules-base.json
	@git worktree remove --force build/base
	$(GO) run ./rules/internal/dump >build/rules-now.json
	$(GO) run ./rules/internal/diffrules build/rules-base.json build/rules-now.json

clean: ## remove everything that was built
	rm -rf build
