package jar

import (
	"math"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// doubts says in plain words what is odd about the sheets, and where a stated depth
// and theirs do not agree.
func (b *behind) doubts(shots []*shot, rec *record.Record) []reading.Warning {
	var d doubtList
	b.depthDoubt(&d, rec)
	widthDoubt(&d, shots)
	files := map[reading.WarningCode][]string{}
	for _, s := range shots {
		switch {
		case s.back == nil && s.marks > 0:
			files[reading.SheetUnread] = append(files[reading.SheetUnread], s.file)
		case s.back == nil:
		default:
			files[s.back.fault] = append(files[s.back.fault], s.file)
			if s.back.Stand.Mirror {
				files[reading.PhotoMirrored] = append(files[reading.PhotoMirrored], s.file)
			}
			if s.back.Identity != b.identity.Identity {
				files[reading.SheetsDiffer] = append(files[reading.SheetsDiffer], s.file)
			}
		}
	}
	add := func(code reading.WarningCode, said, todo string) {
		if f := files[code]; len(f) > 0 {
			d.add(code, words.In(strings.Join(f, ", "), words.Say(said)), words.Say(todo))
		}
	}
	add(reading.SheetsDiffer, "jar.sheets-differ", "do.keep-own-sheet")
	add(reading.SheetAside, "jar.sheet-aside", "do.touch-sheet")
	add(reading.SheetNotUpright, "jar.sheet-not-upright", "do.lean-sheet")
	add(reading.SheetUnread, "jar.sheet-unread", "do.show-sheet-side")
	add(reading.PhotoMirrored, "jar.photo-mirrored", "do.mirror-off")
	return d
}

// beyondDoubt is how many standard deviations a stated depth must lie from the
// measured one to be called wrong; statedDepthSD is of a depth read off a ruler.
const (
	beyondDoubt   = 3.0
	statedDepthSD = 1.0
)

// depthDoubt compares a stated depth with that of the sheets.
func (b *behind) depthDoubt(d *doubtList, rec *record.Record) {
	if b.depth == nil || rec.WaterDepthMM == 0 || b.measured(rec) {
		return
	}
	if math.Abs(rec.WaterDepthMM-b.depth.MM) <= beyondDoubt*math.Hypot(b.depth.SD, statedDepthSD) {
		return
	}
	d.add(reading.DepthDisagrees, words.Say("jar.depth-disagrees", words.MM("stated", rec.WaterDepthMM, 0), words.MM("depth", b.depth.MM, 0), words.MM("sd", 2*b.depth.SD, 0)),
		words.Say("do.measure-depth-again"))
}

// otherWidth is the difference between two widths of one jar, as a share, from which
// two jars are suspected: its sides are found within 2 % of the width, with few
// exceptions.
const otherWidth = 0.06

// widthDoubt says where the jar is wider in one photo than in another.
func widthDoubt(d *doubtList, shots []*shot) {
	var narrow, wide *shot
	for _, s := range shots {
		if s.back == nil || s.back.fault != "" {
			continue
		}
		if narrow == nil || s.back.size.Diameter.MM < narrow.back.size.Diameter.MM {
			narrow = s
		}
		if wide == nil || s.back.size.Diameter.MM > wide.back.size.Diameter.MM {
			wide = s
		}
	}
	if narrow == nil {
		return
	}
	a, b := narrow.back.size.Diameter, wide.back.size.Diameter
	if b.MM-a.MM > max(otherWidth*b.MM, beyondDoubt*math.Hypot(a.SD, b.SD)) {
		d.add(reading.JarWidthsDiffer, words.Say("jar.widths-differ", words.MM("narrow", a.MM, 0), words.Name("one", narrow.file), words.MM("wide", b.MM, 0), words.Name("other", wide.file)),
			words.Say("do.part-two-widths"))
	}
}
