package jar

import (
	"context"
	"errors"
	"math"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/layers"
)

// readTogether is how many photos have their layers read together. Each lot is spread
// over the whole film, so that every one sees all of the settling.
const readTogether = 24

// readAll takes every photo and reads its layers, a lot at a time, and then those that
// showed another view, if they make one of their own.
func (r *roll) readAll(ctx context.Context) error {
	if err := r.readLots(ctx, r.photos); err != nil {
		return err
	}
	var strays []*frame
	for _, f := range r.photos {
		if f.got.view != nil {
			strays = append(strays, f)
		}
	}
	if found, err := r.newViews(ctx, strays); err != nil || !found {
		return err
	}
	for _, f := range strays {
		f.got = nil
	}
	return r.readLots(ctx, strays)
}

func (r *roll) readLots(ctx context.Context, frames []*frame) error {
	lots := (len(frames) + readTogether - 1) / readTogether
	for l := range lots {
		var lot []*frame
		for i := l; i < len(frames); i += lots {
			lot = append(lot, frames[i])
		}
		if err := r.readLot(ctx, lot); err != nil {
			return err
		}
	}
	return nil
}

func (r *roll) readLot(ctx context.Context, lot []*frame) error {
	var only onlyOne
	var failed error
	r.sideBySide(ctx, len(lot), func(i int) {
		err := r.take(lot[i])
		only.do(func() {
			failed = errors.Join(failed, err)
			r.step()
		})
	})
	if err := ctx.Err(); err != nil || failed != nil {
		return errors.Join(err, failed)
	}
	r.layersOf(lot)
	r.thinFronts()
	return nil
}

// layersOf reads the layers of photos together. Where they show none, they are left
// out, and why.
func (r *roll) layersOf(lot []*frame) {
	var use []*frame
	for _, f := range lot {
		if f.got.Front != nil {
			use = append(use, f)
		}
	}
	depth := depthOf(r.rec)
	strips := make([]layers.Strip, len(use))
	for i, f := range use {
		s := located{found: &f.got.Place}
		f.shown = shown{frame: s.baseFrame(r.rec), depth: depth, frameSDMM: frameSDMM(&f.got.Place, depth.MM)}
		st := imaging.StripOf(f.got.Front, stripTop, stripBottom)
		strips[i] = layers.Strip{W: st.W, H: st.H, USpan: st.USpan, Lab: st.Lab}
		fillStrip(&strips[i], f.shown.frame, depth, f.shown.frameSDMM, f.elapsed.Time.Seconds())
	}
	use, strips = passOdd(use, strips, r.outOfLine)
	found, err := layers.Read(strips)
	var refusal *layers.Refusal
	for errors.As(err, &refusal) && refusal.Photo >= 0 && refusal.Photo < len(use) {
		// The lot is read without the photo that cannot be read.
		at := refusal.Photo
		use[at].got = keptOut(reading.RefusalCode(refusal.Code), words.In(use[at].file, refusal.Text))
		use, strips = append(use[:at], use[at+1:]...), append(strips[:at], strips[at+1:]...)
		if len(use) == 0 {
			return
		}
		found, err = layers.Read(strips)
	}
	for i := range found {
		use[i].shown.layers = found[i]
	}
	if err == nil {
		readWithoutFallen(use, strips)
	}
}

// thinFronts lets go of the straightened fronts that are not kept: of each span of
// time the first stays.
func (r *roll) thinFronts() {
	first, last := r.photos[0].elapsed.Time.Seconds(), r.photos[len(r.photos)-1].elapsed.Time.Seconds()
	taken := map[int]bool{}
	for _, f := range r.photos {
		if f.got == nil || f.got.Front == nil {
			continue
		}
		bin := int((framesKept - 0.5) * math.Log(f.elapsed.Time.Seconds()/first) / math.Log(last/first))
		switch {
		case f.got.Front == thinned:
		case taken[bin] && f != r.photos[len(r.photos)-1]:
			f.got.Front = thinned
		default:
			f.got.Front = small(f.got.Front)
		}
		taken[bin] = true
	}
}

// newViews looks for the jar in photos that show another view than those known: where
// three or more in a row agree, the camera or the jar was moved. It tells whether any
// was found; what stays a stray is left out.
func (r *roll) newViews(ctx context.Context, strays []*frame) (bool, error) {
	var rows [][]*frame
	for i, f := range strays {
		v := f.got.view
		if i > 0 {
			last := rows[len(rows)-1]
			if _, agree := last[0].got.view.Shift(v, last[0].got.view.Whole()); agree >= sameView {
				rows[len(rows)-1] = append(last, f)
				continue
			}
		}
		rows = append(rows, []*frame{f})
	}
	before := len(r.views)
	for _, row := range rows {
		if len(row) >= looksLeast {
			r.addReferences(r.look(ctx, spread(row, looksLeast)), 2)
		}
	}
	return len(r.views) > before, ctx.Err()
}

// otherView is the refusal of a photo that shows something else than the others.
func otherView(file string) error {
	return reading.Refuse(reading.OtherView, words.In(file, words.Say("jar.other-view")), words.Say("do.leave-out-or-read-alone"))
}

// leaveOutOdd leaves out, by name, the photos that were refused.
func (r *roll) leaveOutOdd() error {
	r.keep(func(_ int, f *frame) error {
		if f.got.view != nil {
			return otherView(f.file)
		}
		return f.got.refusal()
	})
	if len(r.photos) >= leastFilm {
		return nil
	}
	return r.nothingLeft()
}

// nothingLeft is the refusal of a film of which too few photos can be used: that of
// most of them.
func (r *roll) nothingLeft() error {
	count := map[reading.RefusalCode]int{}
	most := r.leftOut[0]
	for _, l := range r.leftOut {
		if count[l.Code]++; count[l.Code] > count[most.Code] {
			most = l
		}
	}
	return reading.Refuse(most.Code, words.Say("jar.few-left", words.Whole("n", len(r.leftOut)), words.Whole("all", r.total), words.Told("why", *most.Said)),
		words.Say("do.see-what-is-wrong", words.Whole("from", FilmFrom)))
}
