# make build     the program, in bin/, with the browser page inside
# make page      what the page runs: the reading program, compiled for browsers
# make demo      read the sample jars, annotated photos in out/
# make test      everything that must stay green; installs what it needs
# make accuracy  compare with rendered jars of known truth: JARS=folder
# make browser   every test in the browser, the long ones too, and of hands
# make bench     speed and memory
# make release   archives, packages, image and page for others to install, in dist/
# make fuzz      every fuzz target: FUZZTIME=1m
# make vulnerabilities   known ones in what it is built from; needs the network
SHELL := /bin/bash
.DEFAULT_GOAL := build
JARS ?= testdata/jars
STATICCHECK := honnef.co/go/tools/cmd/staticcheck@v0.8.2
PLATFORMS := linux/amd64 linux/arm64 darwin/amd64 darwin/arm64 windows/amd64 windows/arm64
# Where work runs side by side; elsewhere the race detector has little to find.
SIDE_BY_SIDE := ./imaging/jarfind ./internal/batch ./internal/files ./internal/page ./internal/calendar
include release.mk

# What must also run in a browser.
CORE := ./imaging/... ./layers ./texture/...

# The program inside the page, packed. It is built anew when a Go file changed.
PAGE := internal/page/built/mudline.wasm.gz

# Packages of the page in which short functions are not written out where they are
# called: a tenth less to load, and none of them is where readings spend their time.
PAGE_SMALL := archive/... bytes compress/zlib context crypto/... encoding/... fmt hash/... html html/... io/... math/big net/... os path/... reflect regexp \
	regexp/... rsc.io/... strconv \
	strings syscall/... text/... time unicode/... github.com/bep/... github.com/goccy/... github.com/makiuchi-d/... golang.org/x/image/... \
	golang.org/x/text/... mudline/cmd/... mudline/internal/...

.PHONY: build page browser demo test tools format scripts vet staticcheck browsed beside unbrowsed race cross wasm opencv accuracy bench clean

# nodynamic: HEIC is decoded inside the program, never by a library of the machine.
build: page
	CGO_ENABLED=0 go build -trimpath -tags nodynamic -o bin/mudline ./cmd/mudline

page: $(PAGE)

$(PAGE): $(shell find cmd/mudline-page imaging layers texture internal -name '*.go' -not -name '*_test.go') go.mod go.sum internal/report/template internal/reading/schema.json $(wildcard internal/words/catalogue/*.json)
	cp "$$(go env GOROOT)/lib/wasm/wasm_exec.js" internal/page/built/
	go run ./internal/page/lean bin/lean
	GOOS=js GOARCH=wasm go build -trimpath -overlay bin/lean/overlay.json -ldflags='-s -w' $(PAGE_SMALL:%=-gcflags=%=-l) -o internal/page/built/mudline.wasm ./cmd/mudline-page
	go mod download github.com/gen2brain/heic
	go run ./internal/page/heif internal/page/built
	gzip -9 -n -f internal/page/built/mudline.wasm

demo: build
	@for jar in samples/*/; do \
		bin/mudline read "$$jar" --out "out/$$(basename "$$jar")" || exit 1; echo; echo; \
	done
	@bin/mudline batch samples --out out/all
	@echo "Look at the annotated photos: $$(ls out/*/*.read.png | tr '\n' ' ')"
	@echo "and at all jars with their reports: out/all/index.html. In the browser: bin/mudline page"

# A browser mostly waits, so the rest runs beside it, behind it in the queue.
test: tools format scripts vet staticcheck page
	$(MAKE) --no-print-directory -j2 $(if $(filter output-sync,$(.FEATURES)),--output-sync=target) browsed beside

browsed: page
	CGO_ENABLED=0 go test ./internal/page

beside:
	nice $(MAKE) --no-print-directory -j1 unbrowsed race cross release-check wasm opencv

unbrowsed:
	CGO_ENABLED=0 go test $$(go list ./... | grep -v /internal/page$$)

# What the browser tests need.
tools:
	.ci/browser

format:
	@unformatted=$$(gofmt -l .); test -z "$$unformatted" || { echo "run gofmt -w on: $$unformatted"; exit 1; }

# The page's JavaScript: its types, and what is likely a slip.
scripts: tools
	@if [ -x node_modules/.bin/eslint ] || [ -n "$$CI" ]; then npm run --silent check; else echo "the page's JavaScript is not checked: npm lacks"; fi

vet:
	go vet ./...

staticcheck:
	go run $(STATICCHECK) ./...

browser: tools page
	MUDLINE_LONG=1 go test ./internal/page ./texture/feel

race:
	CGO_ENABLED=1 go test -race -short $(SIDE_BY_SIDE)
	CGO_ENABLED=1 go test -race -short -run 'PureGo|TestReduce|CombineReads' ./imaging ./internal/jar

cross:
	@for platform in $(PLATFORMS); do \
		echo "build for $$platform"; \
		CGO_ENABLED=0 GOOS=$${platform%/*} GOARCH=$${platform#*/} go build -trimpath -buildvcs=false -tags nodynamic -ldflags='-s -w' -o /dev/null ./cmd/mudline || exit 1; \
	done

# The report's templates too, as the page's program runs them.
wasm: page
	GOOS=js GOARCH=wasm go build $(CORE)
	go test -short -overlay bin/lean/overlay.json ./internal/report

opencv:
	.ci/opencv

accuracy:
	go run ./internal/accuracy $(JARS)
	@if pkg-config --exists opencv4 libjpeg 2>/dev/null; then CGO_ENABLED=1 go run -tags opencv ./internal/accuracy $(JARS); \
	else echo "OpenCV is not installed: its engine is left out"; fi

bench:
	go test -run '^$$' -bench . -benchmem ./...
	@if pkg-config --exists opencv4 libjpeg 2>/dev/null; then CGO_ENABLED=1 go test -tags opencv -run '^$$' -bench Read -benchmem ./internal/jar; \
	else echo "OpenCV is not installed: its engine is left out"; fi

clean:
	rm -rf bin out node_modules internal/page/built/mudline.wasm* internal/page/built/wasm_exec.js internal/page/built/heif*
