package page_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

const topOfSoil = ".handle.deposit-top"

// scale is CSS pixels to one of the photo.
func (s *story) scale() float64 {
	s.t.Helper()
	return browsertest.Eval[float64](s.Page, "(() => { const i = document.querySelector('.stage > img'); return i.clientWidth / i.naturalWidth; })()")
}

// row is where the top of the soil lies in the last photo, in pixels of the photo.
func (s *story) row(name string) float64 {
	s.t.Helper()
	lines := s.jar(name).Answer.Lines
	for _, l := range lines[len(lines)-1].Lines {
		if l.Name == "deposit-top" {
			return l.Row
		}
	}
	require.Fail(s.t, "no top of the soil", "%+v", lines[len(lines)-1])
	return 0
}

// looksAt opens the last photo of the jar in view, with its lines.
func (s *story) looksAt(name string) {
	s.t.Helper()
	lines := s.jar(name).Answer.Lines
	s.Go("/jar/" + s.jar(name).ID + "/photo/" + lines[len(lines)-1].File)
	s.Wait("the lines", fmt.Sprintf("document.querySelector(%q) && !document.querySelector('.strip.busy')", topOfSoil))
	s.still()
}

// Closer by two fingers and by button, the finger moves the same line by less of
// the photo, as far as it moves on the screen; undo takes it back; the picture
// can be moved, and goes back to the whole jar.
func TestTwoFingersComeCloser(t *testing.T) {
	const name = "Plot 7, by the brook (rendered)"
	s := open(t, phone)
	s.openJar("plot-07-by-the-brook")
	s.read()
	s.looksAt(name)
	whole := s.scale()
	s.Pinch(".stage", 60, 180)
	pinched := s.scale()
	assert.InEpsilon(t, 3*whole, pinched, 0.1, "as far as the fingers went apart")
	assert.Equal(t, 1.0, browsertest.Eval[float64](s.Page, "visualViewport.scale"), "the photo, not the page")
	s.PressOn(fmt.Sprintf("button[aria-label=%q]", s.word("photo-closer")))
	assert.InEpsilon(t, 1.6*pinched, s.scale(), 0.01)

	before := s.row(name)
	s.PressOn(topOfSoil) // brings the line into sight
	s.Drag(topOfSoil, 0, -24)
	s.placed(name, "stated")
	assert.InDelta(t, 24/s.scale(), before-s.row(name), 2, "24 px of the screen")
	s.press("photo-undo")
	s.placed(name, "not stated")
	assert.InDelta(t, before, s.row(name), 0.01)

	left := browsertest.Eval[float64](s.Page, "document.querySelector('.stage > img').offsetLeft")
	s.Drag(".stage", -40, 0)
	assert.InDelta(t, -40, browsertest.Eval[float64](s.Page, "document.querySelector('.stage > img').offsetLeft")-left, 2, "one finger moves the picture")
	s.Pinch(".stage", 300, 20)
	assert.InEpsilon(t, whole, s.scale(), 0.01)
	y := browsertest.Eval[float64](s.Page, "scrollY")
	s.Drag(".stage", 0, 60)
	assert.NotEqual(t, y, browsertest.Eval[float64](s.Page, "scrollY"), "one finger moves the page again")
	s.clean()
}

// The wheel with Ctrl and the keys on a handle do the same; the wheel alone moves
// the page.
func TestWheelAndKeysComeCloser(t *testing.T) {
	const name = "Plot 7, by the brook (rendered)"
	s := open(t, desktop)
	s.openJar("plot-07-by-the-brook")
	s.read()
	s.looksAt(name)
	whole := s.scale()
	wheel := func(ctrl bool) {
		browsertest.Eval[any](s.Page, fmt.Sprintf(`document.querySelector(".stage > svg").dispatchEvent(new WheelEvent("wheel",
			{ deltaY: -120, ctrlKey: %t, bubbles: true, cancelable: true, clientX: 300, clientY: 400 })), null`, ctrl))
	}
	wheel(false)
	assert.InDelta(t, whole, s.scale(), 1e-9)
	wheel(true)
	assert.Greater(t, s.scale(), 1.5*whole)

	s.tabTo("the handle", fmt.Sprintf("e.matches(%q)", topOfSoil))
	s.Keys("0")
	assert.InDelta(t, whole, s.scale(), 1e-9)
	s.Keys("++")
	closer := s.scale()
	assert.InEpsilon(t, 1.6*1.6*whole, closer, 0.01)
	before := s.row(name)
	s.Keys(kb.ArrowUp + kb.ArrowUp + kb.Enter)
	s.placed(name, "stated")
	assert.InDelta(t, before-2, s.row(name), 0.2)
	s.Keys("-")
	assert.InEpsilon(t, closer/1.6, s.scale(), 0.01)
	middle := browsertest.Eval[float64](s.Page, `(() => { const s = document.querySelector(".stage").getBoundingClientRect(),
		l = document.querySelector(".mark-line.deposit-top").getBoundingClientRect(); return (l.y + l.height / 2 - s.y) / s.height; })()`)
	assert.InDelta(t, 0.5, middle, 0.35, "the line is in sight")
	s.clean()
}

// While a line is in the hand nothing moves under it, however many classes the
// jar may be of on the way.
func TestNothingMovesUnderTheFinger(t *testing.T) {
	const name = "Plot 7, by the brook (rendered)"
	s := open(t, browsertest.View{Width: 320, Height: 640, Touch: true, Language: "fr-FR", Zone: "Europe/Paris"})
	require.NoError(t, json.Unmarshal(files(t)["words/fr.json"], &s.words))
	s.openJar("plot-07-by-the-brook")
	s.read()
	s.looksAt(name)
	browsertest.Eval[any](s.Page, `(() => {
		const stage = document.querySelector(".stage");
		window.tops = new Set(); window.heads = new Set();
		window.watch = new MutationObserver(() => {
			if (!stage.classList.contains("dragging")) return;
			window.tops.add(Math.round(stage.getBoundingClientRect().top + scrollY));
			window.heads.add(document.querySelector(".strip-class").textContent);
		});
		window.watch.observe(document.querySelector(".bench-photo"), { subtree: true, childList: true, characterData: true, attributes: true });
		return null;
	})()`)
	s.DragSlowly(topOfSoil, 0, -40)
	s.placed(name, "stated")
	assert.Greater(t, browsertest.Eval[int](s.Page, "window.heads.size"), 1, "the class changes on the way")
	assert.Equal(t, 1, browsertest.Eval[int](s.Page, "window.tops.size"))
	s.clean()
}
