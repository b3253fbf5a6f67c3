package browsertest

import (
	"context"
	"encoding/json"
	"fmt"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// View is how a page is looked at.
type View struct {
	// Width and Height are CSS pixels.
	Width, Height int
	Dark          bool
	// Text is the size of the text as a factor; 0 counts as 1.
	Text float64
	// Touch is a screen for fingers; without it there is a mouse.
	Touch bool
	// Still asks for reduced motion.
	Still bool
	// Language, such as "en-GB", and Zone, such as "Europe/London", are those of
	// the person; empty ones are the browser's own.
	Language, Zone string
}

// Paper is a sheet in inches.
type Paper struct {
	Name          string
	Width, Height float64
}

// The sheets people print on (ISO 216; ANSI/ASME Y14.1).
var (
	A4     = Paper{"A4", 210 / 25.4, 297 / 25.4}
	Letter = Paper{"Letter", 8.5, 11}
)

// Page is an open page.
type Page struct {
	taps int
	t    testing.TB
	ctx  context.Context
	view View

	mu       sync.Mutex
	faults   []string
	requests []string
}

// OpenFile opens a file of this machine as a page of its own, which closes when
// the test ends.
func OpenFile(t testing.TB, file string, v View) *Page {
	t.Helper()
	full, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	return Open(t, (&url.URL{Scheme: "file", Path: full}).String(), v)
}

// Open opens an address as a page of its own, which closes when the test ends.
func Open(t testing.TB, address string, v View) *Page {
	t.Helper()
	tab, closeTab := chromedp.NewContext(started(t))
	ctx, cancel := context.WithTimeout(tab, patience)
	t.Cleanup(func() { cancel(); closeTab() })
	p := &Page{t: t, ctx: ctx}
	if err := chromedp.Listen(ctx, p.listen); err != nil {
		t.Fatal(err)
	}
	call(p, network.Enable, network.EnableParams{})
	call(p, log.Enable, cdp.Empty{})
	p.Look(v)
	run(p, chromedp.Navigate(address))
	p.enlarge()
	return p
}

// Look changes how the page is looked at. Language and zone hold from the next
// load on.
func (p *Page) Look(v View) {
	p.t.Helper()
	p.view = v
	scheme, motion := "light", "no-preference"
	if v.Dark {
		scheme = "dark"
	}
	if v.Still {
		motion = "reduce"
	}
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: motion}}})
	var options []chromedp.EmulateViewportOption
	if v.Touch {
		options = append(options, chromedp.EmulateMobile, chromedp.EmulateTouch)
	}
	run(p, chromedp.EmulateViewport(int64(v.Width), int64(v.Height), options...))
	if v.Zone != "" {
		call(p, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: v.Zone})
	}
	if v.Language != "" {
		agent := Eval[string](p, "navigator.userAgent")
		call(p, emulation.SetUserAgentOverride, emulation.SetUserAgentOverrideParams{UserAgent: agent, AcceptLanguage: v.Language})
	}
	p.enlarge()
}

func (p *Page) enlarge() {
	p.t.Helper()
	if p.view.Text > 0 {
		Eval[chromedp.Void](p, fmt.Sprintf("document.documentElement.style.fontSize = '%g%%'", 100*p.view.Text))
	}
}

// run does one thing in the page; failing that, the test ends.
func run[T any](p *Page, a chromedp.Action[T]) T {
	p.t.Helper()
	v, err := chromedp.Run(p.ctx, a)
	if err != nil {
		p.t.Fatal(err)
	}
	return v
}

func call[P, R any](p *Page, c cdp.Command[P, R], params P) R {
	p.t.Helper()
	r, err := chromedp.Call(p.ctx, c, params)
	if err != nil {
		p.t.Fatal(err)
	}
	return r
}

// Eval evaluates a script in the page; a promise is waited for.
func Eval[T any](p *Page, script string) T {
	p.t.Helper()
	return run(p, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
}

// listen gathers what the page complains of and asks for.
func (p *Page) listen(ev any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch e := ev.(type) {
	case *network.EventRequestWillBeSent:
		p.requests = append(p.requests, e.Request.URL)
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError || e.Entry.Level == log.EntryLevelWarning {
			p.faults = append(p.faults, e.Entry.Text)
		}
	case *runtime.EventExceptionThrown:
		p.faults = append(p.faults, e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			var text []string
			for _, a := range e.Args {
				text = append(text, string(a.Value))
			}
			p.faults = append(p.faults, strings.Join(text, " "))
		}
	}
}

// Faults are the errors and warnings of the console so far.
func (p *Page) Faults() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.faults...)
}

// Requests are the addresses the page asked for, those within itself (data:)
// left out; the first is its own.
func (p *Page) Requests() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	var out []string
	for _, r := range p.requests {
		if !strings.HasPrefix(r, "data:") {
			out = append(out, r)
		}
	}
	return out
}

// Sideways is by how many CSS pixels the page is wider than its window.
func (p *Page) Sideways() int {
	p.t.Helper()
	return Eval[int](p, "document.documentElement.scrollWidth - document.documentElement.clientWidth")
}

// Barriers are what axe-core finds wrong with the page: the rule and the place,
// in text. Folds are opened first, so that nothing is hidden from it.
func (p *Page) Barriers() []string {
	p.t.Helper()
	Eval[chromedp.Void](p, "document.querySelectorAll('details').forEach(d => d.open = true)")
	Eval[chromedp.Void](p, axe(p.t)+";0")
	text := Eval[string](p, `axe.run(document, {resultTypes: ['violations']}).then(r => JSON.stringify({
		passes: r.passes.length,
		violations: r.violations.flatMap(v => v.nodes.map(n => v.id + ' at ' + n.target.join(' ') + ': ' + n.failureSummary))}))`)
	var found struct {
		Passes     int
		Violations []string
	}
	if err := json.Unmarshal([]byte(text), &found); err != nil {
		p.t.Fatal(err)
	}
	if found.Passes == 0 {
		p.t.Fatal("axe-core checked nothing")
	}
	return found.Violations
}

var pdfPage = regexp.MustCompile(`/Type\s*/Page\b`)

// Print prints the page to PDF on a sheet, with its own margins, and counts the
// sheets.
func (p *Page) Print(on Paper) (pdf []byte, sheets int) {
	p.t.Helper()
	pdf = run(p, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperSize{Width: on.Width, Height: on.Height}), chromedp.PDFPrintBackground()))
	return pdf, len(pdfPage.FindAll(pdf, -1))
}

// Screenshot is the whole page as PNG.
func (p *Page) Screenshot() (png []byte) {
	p.t.Helper()
	return run(p, chromedp.FullScreenshot(100))
}
