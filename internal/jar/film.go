package jar

import (
	"context"
	"errors"
	"image"
	"sort"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/imaging/sheetmark"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture"
)

// A film is many photos of one jar from a camera that stays. The jar is found once,
// in some of them (film_views.go); the others are held against those, and all that is
// kept of each is the straightened front of its jar (film_photo.go), in which the
// layers are read some photos at a time (film_read.go). A photo that cannot be used is
// left out by name, and the rest is read.

// FilmFrom is how many photos make a film.
const FilmFrom = 8

// filmSide is the longest side of a film's working pictures: lines are as sharp in
// them as the eye sees them, and a photo of 12 megapixels is decoded at a quarter.
const filmSide = 1000

// smallPhoto is the size up to which a photo of a film is not reduced further.
const smallPhoto = 1600

// errNoFilm says that the camera did not stay: the photos are read as single ones.
var errNoFilm = errors.New("not a film")

// Film is what a film shows beside its reading.
type Film struct {
	// Frames are the straightened fronts of the jar, at most framesKept of them, in
	// order of time.
	Frames []FilmFrame
}

// FilmFrame is the front of the jar at one moment.
type FilmFrame struct {
	File     string
	ElapsedS float64
	// Front is straight and upright: its upper edge lies at Top, its lower one at
	// Bottom, in shares of the water depth.
	Front       *image.RGBA
	Top, Bottom float64
	// Wide is how wide it is in truth, as a share of its height.
	Wide float64
}

// framesKept is how many straightened fronts are kept of a film.
const framesKept = 36

// Store keeps what was made of single photos, so that a reading that was stopped goes
// on where it was. Save must write whole or not at all.
type Store interface {
	Load(key string) ([]byte, bool)
	Save(key string, data []byte) error
}

// roll is a film being read.
type roll struct {
	given   *record.Record // what a person states
	rec     *record.Record // the same, with the depth that a sheet behind the jar tells
	opt     Options
	photos  []*frame // in order of time
	leftOut leftOut
	views   []reference
	total   int // photos given
	done    int
}

// frame is one photo of a film.
type frame struct {
	file    string
	data    func() ([]byte, error)
	photo   *imaging.Photo    // where a front end holds it open already,
	seen    *jarfind.Sighting // and has looked for the jar
	elapsed record.Elapsed
	got     *kept
	shown   shown
	scene   *imaging.Photo     // of a few
	sheets  []*sheetmark.Sheet // behind the jar, in those in which it was looked for
	marks   int
}

// readFilm reads the photos of a film; errNoFilm where they are none.
func readFilm(ctx context.Context, frames []*frame, rec *record.Record, opt Options) (*Result, error) {
	r := &roll{given: rec, rec: rec, opt: opt, total: len(frames)}
	warnings, err := r.inOrder(frames)
	if err != nil {
		return nil, err
	}
	if err := r.findViews(ctx); err != nil {
		return nil, err
	}
	if err := r.readAll(ctx); err != nil {
		return nil, err
	}
	if err := r.leaveOutOdd(); err != nil {
		return nil, err
	}
	return r.finish(warnings)
}

// asFilm reads photos as a film; errNoFilm where they are read as single ones, which very
// many are not.
func asFilm(ctx context.Context, frames []*frame, rec *record.Record, opt Options) (*Result, error) {
	if len(frames) < FilmFrom {
		return nil, errNoFilm
	}
	res, err := readFilm(ctx, frames, rec, opt)
	if errors.Is(err, errNoFilm) && len(frames) > texture.MaxPhotos {
		return nil, tooManySingle(len(frames))
	}
	return res, err
}

// inOrder gives each photo its time and puts them in its order. Photos without one,
// or that are no pictures, are left out.
func (r *roll) inOrder(frames []*frame) ([]reading.Warning, error) {
	var first error
	drop := func(f *frame, err error) {
		if first == nil {
			first = err
		}
		r.leftOut.add(f.file, err)
	}
	var warnings []reading.Warning
	for _, f := range frames {
		taken, err := f.taken()
		if err != nil {
			drop(f, err)
			continue
		}
		times, w, err := r.rec.Resolve([]record.Taken{taken})
		if err != nil {
			drop(f, err)
			continue
		}
		warnings = append(warnings, w...)
		f.elapsed = times[0]
		r.photos = append(r.photos, f)
	}
	sort.SliceStable(r.photos, func(i, j int) bool { return r.photos[i].elapsed.Time < r.photos[j].elapsed.Time })
	r.keep(func(i int, f *frame) error {
		if i > 0 && f.elapsed.Time == r.photos[i-1].elapsed.Time {
			return record.OneTime(r.photos[i-1].file, f.file, f.elapsed.Time)
		}
		return nil
	})
	if len(r.photos) < leastFilm {
		if first != nil && len(r.leftOut) > len(frames)/2 {
			return nil, first // what is wrong with most of them
		}
		return nil, errNoFilm
	}
	return oncePerCode(warnings), nil
}

// leastFilm is how many photos a film must have left.
const leastFilm = 4

// taken reads the head of a photo.
func (f *frame) taken() (record.Taken, error) {
	if p := f.photo; p != nil {
		return record.Taken{File: f.file, At: record.Moment{Time: p.Taken, HasOffset: p.HasOffset}}, nil
	}
	data, err := f.data()
	if err != nil {
		return record.Taken{}, err
	}
	info, err := imaging.Inspect(data)
	if err != nil {
		return record.Taken{}, pictureRefusal(err)
	}
	return record.Taken{File: f.file, At: record.Moment{Time: info.Taken, HasOffset: info.HasOffset}}, nil
}

// keep leaves out the photos for which refuse gives an error. It must not look at
// r.photos past its own photo.
func (r *roll) keep(refuse func(i int, f *frame) error) {
	var stay []*frame
	for i, f := range r.photos {
		if err := refuse(i, f); err != nil {
			r.leftOut.add(f.file, err)
			continue
		}
		stay = append(stay, f)
	}
	r.photos = stay
}

// step tells the front end that one more photo is done.
func (r *roll) step() {
	r.done++
	if r.opt.Progress != nil {
		r.opt.Progress(min(r.done, r.total), r.total)
	}
}

// tooManySingle is the refusal of very many photos that make no film.
func tooManySingle(n int) error {
	return reading.Refuse(reading.NoFilm, words.Say("jar.no-film", words.Whole("photos", n), words.Whole("most", texture.MaxPhotos)), words.Say("do.choose-dozen"))
}
