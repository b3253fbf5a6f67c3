# What people install: make release builds it, make release-check builds part of it twice
# and runs each form from nothing.
NFPM := github.com/goreleaser/nfpm/v2/cmd/nfpm@v2.48.0
GOVULNCHECK := golang.org/x/vuln/cmd/govulncheck@v1.9.0
VERSION ?= $(shell git describe --tags --match 'v[0-9]*' --abbrev=0 2>/dev/null | sed 's/^v//' | grep . || echo 0.0.0)
COMMIT ?= $(shell git rev-parse HEAD)
EPOCH ?= $(shell git log -1 --format=%ct)
MAKE_RELEASE = go run ./internal/release -version $(VERSION) -commit $(COMMIT) -epoch $(EPOCH) -nfpm $(NFPM)
FUZZTIME ?= 1m

.PHONY: release release-check licences vulnerabilities fuzz

release: page
	$(MAKE_RELEASE) -out dist
	@ls -l dist

# For the processor at hand only: the cross-builds are checked by cross.
release-check: page
	.ci/release '$(MAKE_RELEASE) -platforms "linux/$(shell go env GOARCH) windows/amd64"'

licences:
	go test -count=1 -run Licences ./internal/release

# Not a part of make test: its database is on the network. It fails where that is not reached.
vulnerabilities:
	go run $(GOVULNCHECK) -tags nodynamic ./...

# Every fuzz target for FUZZTIME each, one after the other.
fuzz:
	.ci/fuzz $(FUZZTIME)
