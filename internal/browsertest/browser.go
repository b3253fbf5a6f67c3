// Package browsertest opens pages in headless Chromium for tests: what the
// console says, what the page asks for, whether axe-core finds a barrier, how it
// prints and whether it fits.
//
// Without Chromium, or without axe-core (npm ci), tests are skipped with the
// reason. In CI, where CI=true, they fail.
package browsertest

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// names are the programs that are tried.
var names = []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"}

// patience is how long one page may take.
const patience = 3 * time.Minute

var (
	once    sync.Once
	browser context.Context // nil where there is none
	missing string
	closing []context.CancelFunc
)

// Run runs the tests of a package and ends the browser they started; it is what
// TestMain calls.
func Run(m *testing.M) int {
	status := m.Run()
	for i := len(closing) - 1; i >= 0; i-- {
		closing[i]()
	}
	return status
}

// lacking skips the test, or fails it in CI.
func lacking(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// Program finds an installed program that a test looks at something with; without it the
// test is skipped, or fails in CI.
func Program(t testing.TB, name, from string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		lacking(t, name+" ("+from+") is not installed")
	}
	return path
}

// context starts the one browser of this test binary.
func started(t testing.TB) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("no browser in short runs")
	}
	once.Do(start)
	if browser == nil {
		lacking(t, missing)
	}
	return browser
}

func start() {
	path := ""
	for _, n := range names {
		if p, err := exec.LookPath(n); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		missing = "Chromium is not installed (on Debian: apt-get install chromium)"
		return
	}
	options := append([]chromedp.ExecAllocatorOption{}, chromedp.DefaultExecAllocatorOptions[:]...)
	options = append(options, chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun)
	for _, flag := range []string{"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync", "disable-default-apps"} {
		options = append(options, chromedp.Flag(flag, true))
	}
	options = append(options, device()...)
	alloc, endAlloc := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, end := chromedp.NewContext(alloc)
	closing = []context.CancelFunc{endAlloc, end}
	if err := chromedp.Do(ctx); err != nil {
		missing = "Chromium does not start: " + err.Error()
		return
	}
	browser = ctx
}

// axe is the text of axe-core, which package.json pins.
func axe(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			break
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod above the test")
		}
		dir = up
	}
	text, err := os.ReadFile(filepath.Join(dir, "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		lacking(t, "axe-core is not installed: run npm ci")
	}
	return string(text)
}
