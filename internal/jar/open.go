package jar

import (
	"context"
	"errors"
	"image"
	"runtime"
	"sort"
	"sync"

	"golang.org/x/sync/errgroup"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// openAll decodes the photos and looks for the jar in each, opt.Workers at a
// time. Those that cannot be used are left out where enough others stay.
func openAll(ctx context.Context, files []File, rec *record.Record, opt Options) ([]*Opened, leftOut, error) {
	opened := make([]*Opened, len(files))
	errs := make([]error, len(files))
	var mu sync.Mutex
	done := 0
	one := func(i int) {
		opened[i], errs[i] = open(files[i], rec, opt.Engine, true)
		mu.Lock()
		defer mu.Unlock()
		done++
		if opt.Progress != nil {
			opt.Progress(done, len(files))
		}
	}
	if opt.Workers == 1 { // on this goroutine, where a caller can recover
		for i := range files {
			if ctx.Err() == nil {
				one(i)
			}
		}
	} else {
		openSideBySide(ctx, len(files), opt.Workers, one)
	}
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	return withoutRefused(files, opened, errs)
}

// withoutRefused leaves out the photos that were refused where enough others stay. Any
// other error ends the reading.
func withoutRefused(files []File, opened []*Opened, errs []error) (stay []*Opened, out leftOut, err error) {
	for i, e := range errs {
		var refusal *reading.Refusal
		switch {
		case e == nil:
			stay = append(stay, opened[i])
		case errors.As(e, &refusal):
			if err == nil {
				err = e
			}
			out.add(files[i].Name, e)
		default:
			return nil, nil, e
		}
	}
	if err != nil && !mayGo(len(out), len(stay)) {
		return nil, nil, err
	}
	return stay, out, nil
}

// openSideBySide opens n photos, as many at a time as there are workers.
func openSideBySide(ctx context.Context, n, workers int, one func(int)) {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var g errgroup.Group
	g.SetLimit(workers)
	for i := range n {
		if ctx.Err() != nil {
			break
		}
		g.Go(func() error { one(i); return nil })
	}
	_ = g.Wait() // none fails
}

func open(f File, rec *record.Record, eng imaging.Engine, mayTurn bool) (*Opened, error) {
	data, err := f.Data()
	if err != nil {
		return nil, err
	}
	p, err := f.decode(data, eng)
	if err != nil {
		return nil, pictureRefusal(err)
	}
	if r := p.Quality.Refuse(); r != nil {
		return nil, qualityRefusal(f.Name, r)
	}
	box, err := boxOf(f.Name, rec, p)
	if err != nil {
		return nil, err
	}
	return seek(f.Name, p, box, mayTurn)
}

func (f File) decode(data []byte, eng imaging.Engine) (*imaging.Photo, error) {
	if d := f.Decoded; d != nil {
		return imaging.OpenDecoded(f.Name, data, d.Picture, d.Full)
	}
	return imaging.Open(eng, f.Name, data)
}

// boxOf is the box a person drew round the jar, in working pixels.
func boxOf(file string, rec *record.Record, p *imaging.Photo) (image.Rectangle, error) {
	b := rec.BoxOf(file)
	if b == nil {
		return image.Rectangle{}, nil
	}
	if b.X0 < 0 || b.Y0 < 0 || b.X1 > float64(p.FullW) || b.Y1 > float64(p.FullH) {
		return image.Rectangle{}, record.MistakeIn(file, "box", words.Say("jar.box-outside",
			words.Figures("left", b.X0, 6), words.Figures("top", b.Y0, 6), words.Figures("right", b.X1, 6), words.Figures("bottom", b.Y1, 6), words.Whole("w", p.FullW), words.Whole("h", p.FullH)))
	}
	k := 1 / p.Scale
	return image.Rect(int(b.X0*k), int(b.Y0*k), int(b.X1*k), int(b.Y1*k)), nil
}

// inTime finds the time of each photo and puts the photos in its order.
func inTime(opened []*Opened, rec *record.Record) ([]timed, []reading.Warning, error) {
	taken := make([]record.Taken, len(opened))
	for i, o := range opened {
		taken[i] = record.Taken{File: o.file, At: record.Moment{Time: o.photo.Taken, HasOffset: o.photo.HasOffset}}
	}
	times, warnings, err := rec.Resolve(taken)
	if err != nil {
		return nil, nil, err
	}
	out := make([]timed, len(opened))
	for i, o := range opened {
		out[i] = timed{o, times[i]}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].elapsed.Time < out[j].elapsed.Time })
	return out, warnings, nil
}
