package jar

import (
	"math"
	"time"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
	"mudline/texture"
)

// doubts lists in plain words what makes the reading less sure, gravest first,
// each with what would settle it where anything would.
func doubts(shots []*shot, rec *record.Record, tex *texture.Result) []reading.Warning {
	var d doubtList
	switch {
	case tex == nil:
		d.add(reading.NothingSeen, words.Say("jar.nothing-seen"), words.Say("do.wait-or-place-lines"))
	case tellable(tex) == nil:
		d.add(reading.LinesContradict, words.Say("jar.lines-contradict"), words.Say("do.check-photos-belong"))
	}
	d.layers(shots[len(shots)-1], rec)
	d.stated(rec)
	d.times(shots)
	d.outlines(shots)
	for _, s := range shots {
		d.photo(s, len(shots))
	}
	if tex != nil {
		d.surprises(shots, rec, tex.Surprises)
	}
	return d
}

type doubtList []reading.Warning

func (d *doubtList) add(code reading.WarningCode, said, todo words.Message) {
	*d = append(*d, reading.Warn(code, said, todo))
}

// of adds what is doubtful about one photo.
func (d *doubtList) of(s *shot, code reading.WarningCode, said, todo words.Message) {
	*d = append(*d, reading.WarnOf(s.file, code, said, todo))
}

// nothingToDo is the remedy where there is none.
var nothingToDo words.Message

// layers says which boundaries the last photo does not show.
func (d *doubtList) layers(last *shot, rec *record.Record) {
	place := func(line layers.Line) words.Message {
		return words.Say("do.place-line", append(record.PhotoArgs(last.file), words.Name("line", string(line)))...)
	}
	sandSilt, siltClay := last.noted(layers.NoteSandSilt), last.noted(layers.NoteSiltClay)
	switch {
	case sandSilt && siltClay:
		d.add(reading.OneLayer, words.Say("jar.one-layer"), words.Then(words.Say("do.look-with-lamp"), place(layers.SandTop)))
	case sandSilt:
		d.add(reading.SandSilt, words.Say("jar.sand-silt"), place(layers.SandTop))
	case siltClay:
		d.add(reading.SiltClay, words.Say("jar.silt-clay"), place(layers.SiltTop))
	}
	if last.noted(layers.NoteCloudy) {
		after := words.After("t", last.elapsed.Time)
		text := words.Say("jar.cloudy-clay", after)
		if last.elapsed.Time < siltDown(rec) {
			text = words.Say("jar.cloudy-silt", after)
		}
		d.add(reading.Cloudy, text, words.Say("do.photo-when-clear"))
	}
}

// siltDown is when the finest silt, of 2 um, has fallen the whole depth of clear water.
func siltDown(rec *record.Record) time.Duration {
	tempC := float64(texture.RoomTempC)
	if rec.TempC != nil {
		tempC = *rec.TempC
	}
	return time.Duration(depthOf(rec).MM / texture.NewFluid(tempC, texture.QuartzDensity).SettlingMMS(2) * float64(time.Second))
}

// stated says what a person could have told and did not.
func (d *doubtList) stated(rec *record.Record) {
	if rec.WaterDepthMM == 0 {
		d.add(reading.NoWaterDepth, words.Say("jar.no-water-depth"), words.Say("do.state-depth"))
	}
	if rec.TempC == nil {
		d.add(reading.NoTemperature, words.Say("jar.no-temperature", words.C("temp", assumedTempC)), words.Say("do.state-temperature"))
	}
	if rec.Dispersant != nil && !*rec.Dispersant {
		d.add(reading.NoDispersant, words.Say("jar.no-dispersant"), words.Say("do.powder-next-time"))
	}
	if rec.DrySoilG > 0 && rec.WaterDepthMM == 0 {
		d.add(reading.SoilUnused, words.Say("jar.soil-unused"), words.Say("do.state-depth"))
	}
}

const (
	earlyPhoto = 10 * time.Minute
	latePhoto  = 6 * time.Hour
)

// times says which moments no photo shows.
func (d *doubtList) times(shots []*shot) {
	first, last := shots[0].elapsed.Time, shots[len(shots)-1].elapsed.Time
	switch {
	case len(shots) == 1:
		d.add(reading.SinglePhoto, words.Say("jar.single-photo"), words.Say("do.three-photos-next-time"))
	case first > earlyPhoto:
		d.add(reading.NoEarlyPhoto, words.Say("jar.no-early-photo", words.After("t", first)), words.Say("do.early-photo-next-time"))
	}
	if last < latePhoto {
		d.add(reading.Short, words.Say("jar.ended-early", words.After("t", last)), words.Say("do.photo-after-a-day"))
	}
}

// leastWaterLike is what Placement.WaterLike is below where the photos of a jar
// were made to agree on wrong sides: of 140 photos of rendered jars, 24 of them of
// jars that the network was not fitted to, five lay below it, three of them wrong.
const leastWaterLike = 0.02

// outlines says where the sides of the glass and the water do not go together.
func (d *doubtList) outlines(shots []*shot) {
	var unlike, all []string
	for _, s := range shots {
		all = append(all, s.file)
		if !s.place.Boxed && s.place.WaterLike < leastWaterLike && len(s.stated) == 0 {
			unlike = append(unlike, s.file)
		}
	}
	if len(unlike) > 0 {
		d.add(reading.JarOutlineUnsure, words.Say("jar.outline-unsure", words.Names("photos", "", unlike), words.Names("all", "", all)), words.Say("do.check-outlines"))
	}
}

// photo says what is doubtful about one photo.
func (d *doubtList) photo(s *shot, of int) {
	if p := s.jarProbability(); p != nil && *p < sureJar {
		d.of(s, reading.JarUnsure, words.Say("jar.unsure", words.Whole("percent", 100**p)), words.Say("do.check-outline"))
	}
	if w, ok := turnDoubt(s); ok {
		*d = append(*d, w)
	}
	for _, q := range s.photo.Quality.Doubts() {
		d.of(s, reading.WarningCode(q.Code), q.Text, nothingToDo)
	}
	if s.place.WaterSD > unsureWater {
		d.of(s, reading.WaterLineUnsure, words.Say("jar.water-unsure"), words.Say("do.early-photo-or-water", record.PhotoArgs(s.file)...))
	}
	if !s.place.WaterSeen {
		if of > 1 {
			d.of(s, reading.WaterLineUnseen, words.Say("jar.water-by-others"), nothingToDo)
		} else {
			d.of(s, reading.WaterLineUnseen, words.Say("jar.water-guessed"), words.Say("do.place-water", record.PhotoArgs(s.file)...))
		}
	}
	for _, text := range s.gaveWay {
		d.of(s, reading.LineGaveWay, text, words.Say("do.place-that-line"))
	}
	for _, n := range s.layers.Notes {
		switch n.Code {
		case layers.NoteSandSilt, layers.NoteSiltClay, layers.NoteCloudy: // said of the last photo
		default:
			d.of(s, reading.WarningCode(n.Code), n.Text, nothingToDo)
		}
	}
}

// surprises names the lines that do not fit the others.
func (d *doubtList) surprises(shots []*shot, rec *record.Record, found []texture.Surprise) {
	depth := depthOf(rec)
	height := func(name string, share float64) words.Arg { return depth.Tell(name, share*depth.MM, 0) }
	for _, x := range found {
		d.of(shots[x.Photo], reading.OddLine, words.Say("jar.odd-line", words.Word("line", "the-line", string(x.Line)), height("read", x.Share), height("likely", x.Expected)),
			words.Say("do.check-line"))
	}
}

// noted says whether package layers noted something of this photo.
func (s *shot) noted(code string) bool {
	for _, n := range s.layers.Notes {
		if n.Code == code {
			return true
		}
	}
	return false
}

// unsureWater is the standard deviation of the water's row, in shares of the
// depth, from which a person is told.
const unsureWater = 0.03

// sureJar is the probability from which a jar is taken to stand there.
const sureJar = 0.9

// jarProbability is how likely a jar stands where it was placed; nil where a
// person drew a box.
func (s *shot) jarProbability() *float64 {
	if s.place.Boxed {
		return nil
	}
	return reading.Ptr(1 / (1 + math.Exp(-s.place.Odds)))
}
