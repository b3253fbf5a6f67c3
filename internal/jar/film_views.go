package jar

import (
	"context"
	"sort"
	"sync"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/record"
)

// reference is one stand of the camera: a photo in which the jar was found.
type reference struct {
	View  *jarfind.View `json:"-"`
	Rim   jarfind.Places
	Place jarfind.Placement
	Turn  int // degrees clockwise by which its photos are turned
}

// Views of one stand of the camera agree about the jar's rim by at least sameView. On
// a rendered film whose light changes they agreed by 0.78 and more with one of its
// photos; other jars in other rooms by 0.38 at most.
const sameView = 0.55

const (
	looksTaken = 9 // photos in which the jar is looked for
	looksLeast = 3 // of them must show one view
)

// looked is a photo in which the jar was looked for.
type looked struct {
	frame    *frame
	photo    *imaging.Photo
	sighting *jarfind.Sighting
	place    *jarfind.Placement
	view     *jarfind.View
}

// findViews looks for the jar in some photos, spread over the film, and finds the
// stands of the camera among them.
func (r *roll) findViews(ctx context.Context) error {
	looks := r.look(ctx, spread(r.photos, looksTaken))
	if err := ctx.Err(); err != nil {
		return err
	}
	r.addReferences(looks, looksLeast)
	if len(r.views) == 0 {
		return errNoFilm
	}
	r.keepScenes(looks)
	r.rec = depthBehind(looks, r.given)
	return nil
}

// depthBehind is the record with the water's depth as sheets behind the jar tell it, in
// the photos in which the jar was looked for, where none was stated.
func depthBehind(looks []*looked, rec *record.Record) *record.Record {
	var jars []*framed
	for _, l := range looks {
		if l.place != nil {
			jars = append(jars, &framed{located: located{source: source{file: l.frame.file, photo: l.photo, sheets: l.frame.sheets, marks: l.frame.marks}, found: l.place}})
		}
	}
	return lookBehind(jars, rec).known(rec)
}

// spread picks n things out of many, the first and the last among them.
func spread[T any](all []T, n int) []T {
	if len(all) <= n {
		return all
	}
	out := make([]T, n)
	for i := range out {
		out[i] = all[i*(len(all)-1)/(n-1)]
	}
	return out
}

// look opens photos and looks for the jar in all of them together. Those that cannot
// be read are passed over.
func (r *roll) look(ctx context.Context, frames []*frame) []*looked {
	all := make([]*looked, len(frames))
	r.sideBySide(ctx, len(frames), func(i int) { all[i] = r.lookAt(frames[i]) })
	var found []*looked
	for _, l := range all {
		if l != nil {
			found = append(found, l)
		}
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].frame.elapsed.Time < found[j].frame.elapsed.Time })
	sightings := make([]*jarfind.Sighting, len(found))
	for i, l := range found {
		sightings[i] = l.sighting
	}
	for i, p := range jarfind.Settle(sightings) {
		found[i].place = p
	}
	return found
}

func (r *roll) lookAt(f *frame) *looked {
	p, err := f.open(r.opt.Engine)
	if err != nil || p.Quality.Refuse() != nil {
		return nil
	}
	box, err := boxOf(f.file, r.rec, p)
	if err != nil {
		return nil
	}
	seen := f.seen
	if seen == nil {
		found, err := seek(f.file, p, box, true)
		if err != nil {
			return nil
		}
		p, seen = found.photo, found.sighting
		f.sheets, f.marks = found.sheets, found.marks
	}
	return &looked{frame: f, photo: p, sighting: seen, view: jarfind.NewView(p.Picture)}
}

// addReferences groups photos by what their camera sees, and makes a reference of
// each group that has at least least photos.
func (r *roll) addReferences(looks []*looked, least int) {
	var groups [][]*looked
	for _, l := range looks {
		if l.place == nil {
			continue
		}
		at := -1
		for g, group := range groups {
			first := group[0]
			if _, agree := first.view.Shift(l.view, first.view.Rim(first.place.Frame)); agree >= sameView && first.photo.TurnedDeg == l.photo.TurnedDeg {
				at = g
				break
			}
		}
		if at < 0 {
			groups = append(groups, nil)
			at = len(groups) - 1
		}
		groups[at] = append(groups[at], l)
	}
	for _, g := range groups {
		if len(g) >= least || len(r.views) > 0 && len(g) >= 2 {
			r.views = append(r.views, middling(g))
		}
	}
}

// middling is where the jar stands in a group of photos of one view: the middle of
// where it was found in each, told in the view of one of them.
func middling(group []*looked) reference {
	l := group[len(group)/2]
	rim := l.view.Rim(l.place.Frame)
	frames := make([]imaging.Frame, len(group))
	for i, o := range group {
		by, _ := l.view.Shift(o.view, rim)
		frames[i] = o.place.Moved(imaging.Point{X: -by.X, Y: -by.Y}).Frame
	}
	place := *l.place
	place.Frame = imaging.MiddleFrame(frames)
	return reference{View: l.view, Rim: l.view.Rim(place.Frame), Place: place, Turn: l.photo.TurnedDeg}
}

// scenesKept is how many whole photos of a film are kept for drawing.
const scenesKept = 4

// keepScenes keeps the pictures of some photos in which the jar was found, the first
// and the last of them among these.
func (r *roll) keepScenes(looks []*looked) {
	var found []*looked
	for _, l := range looks {
		if l.place == nil {
			continue
		}
		if _, _, agree := r.match(l.view); agree >= sameView {
			found = append(found, l)
		}
	}
	for _, l := range spread(found, scenesKept) {
		l.frame.scene = l.photo
	}
}

// match is the reference that a view agrees with best, how far it is moved, and how
// well they agree.
func (r *roll) match(v *jarfind.View) (ref int, by imaging.Point, agree float64) {
	for i, o := range r.views {
		if b, a := o.View.Shift(v, o.Rim); i == 0 || a > agree {
			ref, by, agree = i, b, a
		}
	}
	return ref, by, agree
}

// sideBySide does n things, as many at a time as there are workers.
func (r *roll) sideBySide(ctx context.Context, n int, one func(int)) {
	if r.opt.Workers == 1 {
		for i := range n {
			if ctx.Err() == nil {
				one(i)
			}
		}
		return
	}
	openSideBySide(ctx, n, r.opt.Workers, one)
}

// onlyOne calls f of one goroutine at a time.
type onlyOne struct{ mu sync.Mutex }

func (o *onlyOne) do(f func()) {
	o.mu.Lock()
	defer o.mu.Unlock()
	f()
}
