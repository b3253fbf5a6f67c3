package jar

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"image"
	"math"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// kept is all that is kept of one photo of a film.
type kept struct {
	// Code and Said say why the photo is left out, Said as JSON of a message; empty where
	// it is not.
	Code reading.RefusalCode
	Said []byte
	// Photo is the photo without its picture.
	Photo imaging.Photo
	Place jarfind.Placement
	// Front is the straightened front of the jar.
	Front *image.RGBA
	// Widths are those of the silhouette of the glass.
	Widths []float64

	view *jarfind.View // of a photo that shows none of the views known
}

// keptVersion is part of every key in a store: change it when kept, or what is made of
// a photo, changes.
const keptVersion = "film 2"

// open opens a photo at the size of a film.
func (f *frame) open(eng imaging.Engine) (*imaging.Photo, error) {
	if f.photo != nil {
		return f.photo, nil
	}
	data, err := f.data()
	if err != nil {
		return nil, err
	}
	return openFrame(f.file, data, eng)
}

func openFrame(file string, data []byte, eng imaging.Engine) (*imaging.Photo, error) {
	info, err := imaging.Inspect(data)
	if err != nil {
		return nil, pictureRefusal(err)
	}
	side := filmSide
	if max(info.W, info.H) <= smallPhoto {
		side = smallPhoto
	}
	p, err := imaging.OpenAt(eng, file, data, side)
	if err != nil {
		return nil, pictureRefusal(err)
	}
	return p, nil
}

// take makes of a photo what is kept of it, or finds that in the store.
func (r *roll) take(f *frame) error {
	if f.scene != nil || f.photo != nil {
		p := f.scene
		if p == nil {
			p = f.photo
		}
		f.got = r.make(f.file, p)
		return nil
	}
	data, err := f.data()
	if err != nil {
		f.got = refusedPhoto(err)
		return nil
	}
	key := ""
	if r.opt.Store != nil {
		key = r.keyOf(data)
		if old, ok := r.opt.Store.Load(key); ok {
			if got, err := decodeKept(old); err == nil {
				f.got = got
				return nil
			}
		}
	}
	p, err := openFrame(f.file, data, r.opt.Engine)
	if err != nil {
		f.got = refusedPhoto(err)
	} else {
		f.got = r.make(f.file, p)
	}
	if key == "" || f.got.view != nil {
		return nil
	}
	out, err := f.got.encode()
	if err != nil {
		return err
	}
	return r.opt.Store.Save(key, out)
}

// make lays the front of the jar straight.
func (r *roll) make(file string, p *imaging.Photo) *kept {
	if q := p.Quality.Refuse(); q != nil {
		return refusedPhoto(qualityRefusal(file, q))
	}
	if turn := r.views[0].Turn; turn != 0 && p.TurnedDeg == 0 && !p.Oriented {
		p = p.Turned(turn)
	}
	view := jarfind.NewView(p.Picture)
	ref, by, agree := r.match(view)
	if agree < sameView {
		return &kept{view: view}
	}
	place := jarfind.Follow(p.Picture, r.views[ref].Place, by)
	s := &framed{located: located{source: source{file: file, photo: p}, found: &place}, place: &place}
	s.frame = s.baseFrame(r.rec)
	if r := s.judge(); r != nil {
		return refusedPhoto(r)
	}
	k := &kept{Photo: *p, Place: place, Widths: r.widths(s), Front: imaging.Straightened(p.Picture, s.frame, stripTop, stripBottom)}
	k.Photo.Picture = nil
	return k
}

// widths are those of the silhouette of the glass; nil where the lens is not known:
// then how far the glass seems to widen may be how far the camera looks down.
func (r *roll) widths(s *framed) []float64 {
	if s.photo.Focal35MM == 0 {
		return nil
	}
	return mostSeen(jarfind.Silhouette(s.photo.Picture, s.frame))
}

// mostSeen is a silhouette of which at least two thirds show. All photos of a film take
// the same stray edges for the glass, so that one seen in part tells nothing.
func mostSeen(widths []float64) []float64 {
	seen := 0
	for _, w := range widths {
		if !math.IsNaN(w) {
			seen++
		}
	}
	if 3*seen < 2*len(widths) {
		return nil
	}
	return widths
}

func refusedPhoto(err error) *kept {
	var left leftOut
	left.add("", err)
	return keptOut(left[0].Code, *left[0].Said)
}

// keptOut is a photo that is left out.
func keptOut(code reading.RefusalCode, said words.Message) *kept {
	data, err := json.Marshal(said)
	if err != nil {
		panic(err) // a message is always JSON
	}
	return &kept{Code: code, Said: data}
}

// refusal is why the photo is left out; nil where it is not.
func (k *kept) refusal() error {
	if k.Code == "" {
		return nil
	}
	var said words.Message
	if err := json.Unmarshal(k.Said, &said); err != nil {
		return err
	}
	return reading.Refuse(k.Code, said, nothingToDo)
}

// keyOf is the name in the store of what is made of a photo: of its bytes, where the
// jar stands in the film, and how deep the water is.
func (r *roll) keyOf(data []byte) string {
	h := sha256.New()
	fmt.Fprintln(h, keptVersion, r.opt.Engine.Name(), depthOf(r.rec).MM)
	for _, v := range r.views {
		fmt.Fprintf(h, "%v %d\n", v.Place, v.Turn)
	}
	h.Write(data)
	return fmt.Sprintf("%x", h.Sum(nil)[:16])
}
