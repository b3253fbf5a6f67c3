package browsertest

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	downloads "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// waiting is how long something may take to show.
const waiting = 40 * time.Second

// find is a function of the page: it waits until what shows a text, or fits a
// selector, can be pressed, brings it into sight and gives its middle. What lies
// under something else is not found. Whether a click then reaches it is kept in
// window.reached, for what answers to clicks, and whether a finger lies on it in window.held.
const find = `(async (wanted, bySelector, patience) => {
	const visible = (e) => e.checkVisibility({ visibilityProperty: true, opacityProperty: false }) && e.getClientRects().length > 0;
	const name = (e) => (e.getAttribute("aria-label") || e.innerText || "").trim();
	const look = () => {
		const root = document.querySelector("dialog[open]") || document;
		const all = [...root.querySelectorAll(bySelector ? wanted : "button, a[href], summary, label, [role=slider]")].filter(visible);
		return bySelector ? all[0] : all.find((e) => name(e) === wanted) || all.find((e) => name(e).startsWith(wanted));
	};
	const middle = (e) => { const r = e.getClientRects()[0]; return [r.x + r.width / 2, r.y + r.height / 2]; };
	const end = performance.now() + patience;
	let why = "it is not there";
	while (performance.now() < end) {
		const e = look();
		if (e) {
			if (e.disabled) why = "it is disabled";
			else {
				e.scrollIntoView({ block: "center", behavior: "instant" });
				const before = middle(e);
				for (let frame = 0; frame < 6; frame++) await new Promise((r) => requestAnimationFrame(r));
				const at = middle(e), hit = document.elementFromPoint(...at);
				if (Math.hypot(at[0] - before[0], at[1] - before[1]) < 0.5 && hit && (e === hit || e.contains(hit) || hit.contains(e) && hit.closest("label"))) {
					window.finding?.abort();
					window.finding = new AbortController();
					window.reached = !e.matches("button, a, summary, label");
					window.held = false;
					const on = (kind, then) => document.addEventListener(kind, (c) => { if (e.contains(c.target) || c.target.closest?.("label")?.contains(e)) then(); }, { capture: true, signal: window.finding.signal });
					on("click", () => { window.reached = true; });
					on("pointerdown", () => { window.held = true; });
					return { at };
				}
				why = "it lies under " + (hit ? hit.outerHTML.slice(0, 120) : "nothing");
			}
		}
		await new Promise((r) => setTimeout(r, 40));
	}
	return { why, text: document.body.innerText.slice(0, 1500) };
})`

func quoted(v any) string {
	text, _ := json.Marshal(v) // strings, numbers and booleans
	return string(text)
}

func (p *Page) find(wanted string, bySelector bool) (x, y float64) {
	p.t.Helper()
	found := Eval[struct {
		At        []float64
		Why, Text string
	}](p, fmt.Sprintf("%s(%s, %t, %d)", find, quoted(wanted), bySelector, waiting.Milliseconds()))
	if len(found.At) != 2 {
		p.t.Fatalf("%q cannot be pressed: %s\n%s\nfaults: %v", wanted, found.Why, found.Text, p.Faults())
	}
	return found.At[0], found.At[1]
}

// Taps is how often a person would have touched the screen so far: to press, to drag, to get
// into a field that has not the focus, to choose files.
func (p *Page) Taps() int { return p.taps }

// Press presses the button, link or other control that shows a text, as a
// person would: with the finger or the mouse, at its middle, and once more where it
// had moved away under the finger.
func (p *Page) Press(text string) {
	p.t.Helper()
	p.press(text, false)
}

// PressOn presses the first visible element of a selector.
func (p *Page) PressOn(selector string) {
	p.t.Helper()
	p.press(selector, true)
}

func (p *Page) press(wanted string, bySelector bool) {
	p.t.Helper()
	p.taps++
	for range 3 {
		p.pressAt(p.find(wanted, bySelector))
		if p.came("reached") { // what a document that has gone holds was reached
			return
		}
	}
	p.t.Fatalf("%q was pressed three times and never reached", wanted)
}

// came waits until what find keeps under a name is no longer false.
func (p *Page) came(name string) bool {
	p.t.Helper()
	for end := time.Now().Add(3 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if Eval[bool](p, "window."+name+" !== false") {
			return true
		}
	}
	return false
}

func (p *Page) pressAt(x, y float64) {
	p.t.Helper()
	if p.view.Touch {
		run(p, chromedp.TapXY(x, y))
		return
	}
	run(p, chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y))
	run(p, chromedp.MouseClickXY(x, y))
}

// Drag moves what fits a selector by CSS pixels, with the finger or the mouse, in
// steps a frame apart.
func (p *Page) Drag(selector string, dx, dy float64) {
	p.t.Helper()
	p.drag(selector, dx, dy, 17*time.Millisecond)
}

// DragSlowly leaves the page the time to follow.
func (p *Page) DragSlowly(selector string, dx, dy float64) {
	p.t.Helper()
	p.drag(selector, dx, dy, 250*time.Millisecond)
}

func (p *Page) drag(selector string, dx, dy float64, step time.Duration) {
	p.t.Helper()
	p.taps++
	x, y := p.hold(selector)
	const steps = 10
	for i := 1; i <= steps; i++ {
		k := float64(i) / steps
		time.Sleep(step)
		p.pointer(input.DispatchTouchEventTypeTouchMove, input.DispatchMouseEventTypeMouseMoved, x+k*dx, y+k*dy)
	}
	p.pointer(input.DispatchTouchEventTypeTouchEnd, input.DispatchMouseEventTypeMouseReleased, x+dx, y+dy)
}

// hold lays the finger on what fits a selector, once more where it had moved away.
func (p *Page) hold(selector string) (x, y float64) {
	p.t.Helper()
	for range 3 {
		x, y = p.find(selector, true)
		p.pointer(input.DispatchTouchEventTypeTouchStart, input.DispatchMouseEventTypeMousePressed, x, y)
		if p.came("held") {
			return x, y
		}
		p.pointer(input.DispatchTouchEventTypeTouchEnd, input.DispatchMouseEventTypeMouseReleased, x, y)
	}
	p.t.Fatalf("%s was not to be held", selector)
	return x, y
}

func (p *Page) pointer(touch input.DispatchTouchEventType, mouse input.DispatchMouseEventType, x, y float64) {
	p.t.Helper()
	if !p.view.Touch {
		run(p, chromedp.MouseEvent(mouse, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
		return
	}
	points := []*input.TouchPoint{}
	if touch != input.DispatchTouchEventTypeTouchEnd {
		points = append(points, &input.TouchPoint{X: x, Y: y})
	}
	call(p, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: touch, TouchPoints: points})
}

// Pinch lays two fingers on the middle of what fits a selector and moves them
// apart from one distance to another, in CSS pixels, in steps a frame apart.
func (p *Page) Pinch(selector string, from, to float64) {
	p.t.Helper()
	x, y := p.find(selector, true)
	fingers := func(kind input.DispatchTouchEventType, apart float64) {
		points := []*input.TouchPoint{}
		if kind != input.DispatchTouchEventTypeTouchEnd {
			one, two := 1., 2.
			points = append(points, &input.TouchPoint{X: x, Y: y - apart/2, ID: &one}, &input.TouchPoint{X: x, Y: y + apart/2, ID: &two})
		}
		call(p, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
	}
	fingers(input.DispatchTouchEventTypeTouchStart, from)
	const steps = 10
	for i := 1; i <= steps; i++ {
		time.Sleep(17 * time.Millisecond)
		fingers(input.DispatchTouchEventTypeTouchMove, from+(to-from)*float64(i)/steps)
	}
	fingers(input.DispatchTouchEventTypeTouchEnd, to)
}

// Keys that are held while others are pressed.
const (
	Ctrl  = chromedp.ModifierCtrl
	Shift = chromedp.ModifierShift
)

// Keys presses keys one after the other; kb names those that write nothing.
func (p *Page) Keys(keys string, held ...chromedp.Modifier) {
	p.t.Helper()
	run(p, chromedp.KeyEvent(keys, chromedp.KeyModifiers(held...)))
}

// Type writes into the field of a selector in the place of what it holds.
func (p *Page) Type(selector, text string) {
	p.t.Helper()
	p.Wait(selector+" is there", fmt.Sprintf("document.querySelector(%s)", quoted(selector)))
	if Eval[bool](p, fmt.Sprintf("(() => { const e = document.querySelector(%s), had = e === document.activeElement; e.focus(); e.select?.(); return !had; })()", quoted(selector))) {
		p.taps++
	}
	call(p, input.InsertText, input.InsertTextParams{Text: text})
}

// Set gives the field of a selector a value, for fields that are not written in.
func (p *Page) Set(selector, value string) {
	p.t.Helper()
	p.Wait(selector+" is there", fmt.Sprintf("document.querySelector(%s)", quoted(selector)))
	Eval[chromedp.Void](p, fmt.Sprintf(`{ const e = document.querySelector(%s); e.value = %s;
		for (const kind of ["input", "change"]) e.dispatchEvent(new Event(kind, { bubbles: true })); }`, quoted(selector), quoted(value)))
}

// Choose puts files into the file input of a selector.
func (p *Page) Choose(selector string, files ...string) {
	p.t.Helper()
	p.taps += 2 // the button, and the photos in what it opens
	full := make([]string, len(files))
	for i, f := range files {
		var err error
		if full[i], err = filepath.Abs(f); err != nil {
			p.t.Fatal(err)
		}
	}
	for { // a view that is drawn anew in between has another one
		p.Wait(selector+" is there", fmt.Sprintf("document.querySelector(%s)", quoted(selector)))
		at := call(p, runtime.Evaluate, runtime.EvaluateParams{Expression: fmt.Sprintf("document.querySelector(%s)", quoted(selector))})
		if at.Result.ObjectID != "" {
			call(p, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: full, ObjectID: at.Result.ObjectID})
			return
		}
	}
}

// Wait waits until a condition of the page holds; what names it.
func (p *Page) Wait(what, condition string) {
	p.t.Helper()
	end := time.Now().Add(waiting)
	for time.Now().Before(end) {
		if Eval[bool](p, fmt.Sprintf("(async () => Boolean(%s))()", condition)) {
			return
		}
		time.Sleep(40 * time.Millisecond)
	}
	p.t.Fatalf("never came: %s\n%s\nfaults: %v", what, Eval[string](p, "document.body.innerText.slice(0, 1500)"), p.Faults())
}

// Go opens a part of the page by what stands after # in its address.
func (p *Page) Go(hash string) {
	p.t.Helper()
	Eval[chromedp.Void](p, "location.hash = "+quoted(hash))
}

// Visit opens another address.
func (p *Page) Visit(address string) {
	p.t.Helper()
	run(p, chromedp.Navigate(address))
	p.enlarge()
}

// Reload loads the page anew.
func (p *Page) Reload() {
	p.t.Helper()
	run(p, chromedp.Reload())
	p.enlarge()
}

// Close closes the page at once, as when the system ends a tab.
func (p *Page) Close() {
	p.t.Helper()
	call(p, page.Close, cdp.Empty{})
}

// Quiet drops the faults so far, after a test has seen that they had to come.
func (p *Page) Quiet() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.faults = nil
}

// Offline cuts the page off from the network, or joins it again.
func (p *Page) Offline(off bool) {
	p.t.Helper()
	if off {
		call(p, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{
			EmulateOfflineServiceWorker: &off, MatchedNetworkConditions: []*network.Conditions{{Offline: true}}})
		return
	}
	call(p, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{}})
}

// Download does something that saves a file, and gives the file.
func (p *Page) Download(act func()) (name string, data []byte) {
	p.t.Helper()
	dir := p.t.TempDir()
	if _, err := chromedp.CallBrowser(p.ctx, downloads.SetDownloadBehavior, downloads.SetDownloadBehaviorParams{
		Behavior: downloads.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir}); err != nil {
		p.t.Fatal(err)
	}
	act()
	for end := time.Now().Add(waiting); time.Now().Before(end); time.Sleep(40 * time.Millisecond) {
		entries, err := os.ReadDir(dir)
		if err != nil {
			p.t.Fatal(err)
		}
		if len(entries) != 1 || strings.HasSuffix(entries[0].Name(), ".crdownload") || strings.HasPrefix(entries[0].Name(), ".") {
			continue
		}
		data, err := os.ReadFile(filepath.Join(dir, entries[0].Name()))
		if err != nil {
			p.t.Fatal(err)
		}
		return entries[0].Name(), data
	}
	p.t.Fatalf("no file was saved\n%s", Eval[string](p, "document.body.innerText.slice(0, 1500)"))
	return "", nil
}
