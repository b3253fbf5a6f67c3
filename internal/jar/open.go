package jar

import (
	"context"
	"image"
	"runtime"
	"sort"
	"sync"

	"golang.org/x/sync/errgroup"

	"mudline/imaging"
	"mudline/imaging/sheetmark"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
)

// shot is one photo on its way through the pipeline.
type shot struct {
	file     string
	photo    *imaging.Photo
	sighting *imaging.Sighting
	sheets   []*sheetmark.Sheet // those seen in the photo
	marks    int                // of sheets, as many as were read
	elapsed  record.Elapsed
	found    *imaging.Placement // as the picture shows it
	place    *imaging.Placement // with what was stated
	frame    imaging.Frame      // working pixels, height 1 at the water surface
	stated   []string           // lines a person placed in this photo
	shown    shown              // lines as the picture shows them
	layers   layers.Reading     // with what was stated
	gaveWay  []words.Message    // lines found that contradict stated ones
	outline  outline
	back     *backdrop
	filmed   bool // outline was measured while the film was read
}

// openAll decodes the photos and looks for the jar in each, opt.Workers at a
// time.
func openAll(ctx context.Context, files []File, rec *record.Record, opt Options) ([]*shot, error) {
	shots := make([]*shot, len(files))
	errs := make([]error, len(files))
	var mu sync.Mutex
	done := 0
	one := func(i int) {
		shots[i], errs[i] = open(files[i], rec, opt.Engine, true)
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
		return nil, err
	}
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return shots, nil
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

func open(f File, rec *record.Record, eng imaging.Engine, mayTurn bool) (*shot, error) {
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
		return image.Rectangle{}, words.In(file, words.Say("jar.box-outside",
			words.Figures("left", b.X0, 6), words.Figures("top", b.Y0, 6), words.Figures("right", b.X1, 6), words.Figures("bottom", b.Y1, 6), words.Whole("w", p.FullW), words.Whole("h", p.FullH)))
	}
	k := 1 / p.Scale
	return image.Rect(int(b.X0*k), int(b.Y0*k), int(b.X1*k), int(b.Y1*k)), nil
}

// timeShots finds the time of each photo and puts the photos in its order.
func timeShots(shots []*shot, rec *record.Record) ([]reading.Warning, error) {
	taken := make([]record.Taken, len(shots))
	for i, s := range shots {
		taken[i] = record.Taken{File: s.file, At: record.Moment{Time: s.photo.Taken, HasOffset: s.photo.HasOffset}}
	}
	times, warnings, err := rec.Resolve(taken)
	if err != nil {
		return nil, err
	}
	for i := range shots {
		shots[i].elapsed = times[i]
	}
	sort.SliceStable(shots, func(i, j int) bool { return shots[i].elapsed.Time < shots[j].elapsed.Time })
	return warnings, nil
}
