package jar

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
	"mudline/texture"
)

// said checks that all a reading says is there as messages with the same English, and
// that every language has its texts.
func said(t *testing.T, r *reading.Reading) {
	var all []*words.Message
	same := func(text string, m *words.Message) {
		if text == "" {
			assert.Nil(t, m)
			return
		}
		if assert.NotNil(t, m, text) {
			assert.Equal(t, text, m.String())
			all = append(all, m)
		}
	}
	for _, w := range r.Warnings {
		same(w.Text, w.Said)
		same(w.Remedy, w.Todo)
	}
	for _, c := range r.Causes {
		same(c.Text, c.Said)
	}
	same(r.Why, r.WhySaid)
	if n := r.NextPhoto; n != nil {
		same(n.Text, n.Said)
	}
	if h := r.Hand; h != nil {
		same(h.Text, h.TextSaid)
		for _, x := range h.Reasons {
			same(x.Text, x.Said)
			same(x.Remedy, x.Todo)
		}
	}
	require.NotEmpty(t, all)
	for _, tag := range words.Tags() {
		l, err := words.Find(tag)
		require.NoError(t, err)
		for _, m := range all {
			m.Each(func(m words.Message) {
				assert.NotEqual(t, "as-it-is", m.Key, "%v", m)
				assert.True(t, l.Has(m.Key), "%s: %s", tag, m.Key)
			})
			assert.NotRegexp(t, `\{[a-z_]+\}`, l.Say(*m), tag)
		}
	}
}

// Everything that may be doubtful about two photos, with the depth known and not.
func TestDoubtsAreSaidInEveryLanguage(t *testing.T) {
	top := &layers.Boundary{HeightMM: 30, SDMM: 9}
	shots := func(rec *record.Record, cloud float64) []*shot {
		var out []*shot
		for i, file := range []string{"a b.jpg", "c.jpg"} {
			l := layers.Reading{DepositTop: top, FloatingMM: 2, Cloud: cloud}
			l.Notes = layers.NotesOn(l, depthOf(rec), i == 1)
			s := &shot{layers: l, gaveWay: []words.Message{words.Say("jar.line-gave-way", line("found", layers.SiltTop), depthOf(rec).Tell("found_at", 20, 1),
				line("placed", layers.SandTop), depthOf(rec).Tell("placed_at", 30, 1))}}
			s.file, s.photo = file, &imaging.Photo{TurnedDeg: 90, Quality: imaging.Quality{BlownOut: 1}}
			s.place, s.elapsed = &jarfind.Placement{WaterSD: 1, WaterSeen: i == 0}, record.Elapsed{Time: time.Duration(1+i) * time.Hour}
			out = append(out, s)
		}
		return out
	}
	no := false
	tex := &texture.Result{Surprises: []texture.Surprise{{Photo: 1, Line: texture.SandTopLine, Share: 0.2, Expected: 0.1}}}
	contradict := *tex
	contradict.Misfit = contradictory + 1
	for _, rec := range []*record.Record{{Dispersant: &no, DrySoilG: 200}, {WaterDepthMM: 120}} {
		for _, of := range [][]*shot{shots(rec, 1), shots(rec, 0), shots(rec, 1)[1:]} {
			r := reading.Reading{Warnings: append(append(doubts(of, rec, nil), taperDoubt(0.1, rec)...), taperDoubt(-0.1, rec)...)}
			if len(of) > 1 {
				r.Warnings = append(r.Warnings, doubts(of, rec, tex)...)
				r.Warnings = append(r.Warnings, doubts(of, rec, &contradict)...)
			}
			said(t, &r)
			for _, w := range r.Warnings {
				assert.NotContains(t, (*words.Language)(nil).In(words.Setting{Surface: words.Page}).Say(w.Help()), "--", "the page has no options")
				assert.NotContains(t, (*words.Language)(nil).In(words.Setting{Surface: words.Batch}).Say(w.Help()), "--", "a jar in a batch has none")
			}
		}
	}
}
