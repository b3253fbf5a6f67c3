package page_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

// reachable lists what the Tab key has to reach; of a group of radio buttons it
// reaches one. What is reached is taken off the list.
const reachable = `(() => {
	const groups = new Set();
	window.left = new Set([...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")].filter((e) => {
		if (e.disabled || !e.checkVisibility({ visibilityProperty: true })) return false;
		if (e.type !== "radio") return true;
		const checked = document.querySelector("input[name='" + e.name + "']:checked");
		if (groups.has(e.name) || checked && checked !== e) return false;
		groups.add(e.name);
		return true;
	}));
	return window.left.size;
})()`

// stop says where the focus is, what can be seen of it, and what is left.
const stop = `(() => {
	const e = document.activeElement;
	if (!e || e === document.body) return { out: true };
	const ring = (at, pseudo) => { const s = getComputedStyle(at, pseudo); return s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2; };
	const seen = [e, e.closest("label")].some((at) => at && (ring(at) || ring(at, "::after")));
	const r = e.getBoundingClientRect();
	const inSight = r.bottom > 0 && r.top < innerHeight;
	// A field of date and time has stops of its own inside, which the browser draws.
	const within = !window.left.delete(e) && e.type === "datetime-local";
	return { seen: seen || within, inSight, left: window.left.size, html: e.outerHTML.slice(0, 100) };
})()`

// unchanging waits until nothing was drawn anew for a while; the hidden text for
// screen readers and the clock count for nothing.
const unchanging = `await new Promise((resolve) => {
	const watch = new MutationObserver(() => { clearTimeout(timer); timer = setTimeout(done, 400); });
	const done = () => { watch.disconnect(); resolve(true); };
	let timer = setTimeout(done, 400);
	watch.observe(document.getElementById("view"), { childList: true, subtree: true });
})`

// tour goes through a view with the Tab key: it comes to everything, the focus
// can be seen on each, and nothing holds it.
func (s *story) tour(view string) {
	s.t.Helper()
	s.Wait("a view that stays as it is", unchanging)
	browsertest.Eval[any](s.Page, "document.activeElement.blur(), window.getSelection().removeAllRanges(), document.getElementById('top').scrollIntoView(), null")
	all := browsertest.Eval[int](s.Page, reachable)
	require.Greater(s.t, all, 4, view)
	for left, n := all, 0; left > 0 && n < 2*all+10; n++ {
		s.Keys(kb.Tab)
		at := browsertest.Eval[struct {
			Out, Seen, InSight bool
			Left               int
			HTML               string
		}](s.Page, stop)
		if at.Out {
			continue
		}
		left = at.Left
		assert.True(s.t, at.Seen, "%s: the focus cannot be seen on %s", view, at.HTML)
		assert.True(s.t, at.InSight, "%s: the focus is out of sight on %s", view, at.HTML)
	}
	assert.Empty(s.t, browsertest.Eval[[]string](s.Page, "[...window.left].map((e) => e.outerHTML.slice(0, 120))"), "%s: not reached", view)
}

// tabTo presses Tab until the focus is on what fits a condition on e.
func (s *story) tabTo(what, condition string) {
	s.t.Helper()
	s.Wait("a view that stays as it is", unchanging)
	for range 60 {
		if browsertest.Eval[bool](s.Page, fmt.Sprintf("((e) => Boolean(%s))(document.activeElement)", condition)) {
			return
		}
		s.Keys(kb.Tab)
	}
	require.Fail(s.t, "Tab never comes to "+what)
}

// tabOn presses the control of a key's text by the keyboard.
func (s *story) tabOn(key string) {
	s.t.Helper()
	s.Wait(key, fmt.Sprintf(`[...document.querySelectorAll("a, button, summary")].some((e) => e.innerText.trim() === %q && !e.disabled)`, s.word(key)))
	s.tabTo(key, fmt.Sprintf("e.matches('a, button, summary') && e.innerText.trim() === %q", s.word(key)))
	s.Keys(kb.Enter)
}

// A jar is set up, read and corrected without a pointer.
func TestTheKeyboardDoesItAll(t *testing.T) {
	s := open(t, desktop)
	s.tour("home")
	s.tabOn("home-new")
	s.at("/new")
	for _, text := range []string{"By keyboard", "", "5 1/8", "68"} {
		if text != "" {
			s.Wait("the question", `document.querySelector(".field input")?.value === ""`)
			s.tabTo("the field", "e.matches('.field input')")
			s.Keys(text)
			s.Keys(kb.Enter)
			s.Wait("the next step", fmt.Sprintf("document.querySelector('.field input')?.value !== %q", text))
		} else {
			s.tabOn("next")
		}
	}
	s.tabOn("set-down-now")
	s.at("/jar/[^/]+")
	s.tabTo("the photos", "e.matches('input[type=file][multiple]')")
	s.Choose("input[type=file][multiple]", photosOf(t, sample("plot-07-by-the-brook"))...)
	s.looked(3)
	s.tour("jar")
	s.tabOn("jar-read")
	s.at("/jar/[^/]+/result")
	s.settled()
	s.tour("result")
	s.tabOn("result-adjust")
	s.Wait("the lines", "document.querySelector('.handle.deposit-top') && !document.querySelector('.strip.busy')")
	s.tour("photo")
	before := s.text(".strip")
	s.tabTo("the handle", "e.matches('.handle.deposit-top')")
	s.Keys(kb.ArrowUp+kb.ArrowUp+kb.ArrowUp+kb.ArrowUp+kb.ArrowUp, browsertest.Shift)
	s.Keys(kb.Enter)
	s.placed("By keyboard", "stated")
	assert.NotEqual(t, before, s.text(".strip"))
	s.tabOn("photo-undo")
	s.placed("By keyboard", "not stated")
	j := s.jar()
	for _, view := range []string{"/jar/" + j.ID + "/setup", "/jar/" + j.ID + "/hands", "/settings", "/help"} {
		s.visit(view)
		s.tour(filepath.Base(view))
	}
	s.clean()
}
