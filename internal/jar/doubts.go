package jar

import (
	"fmt"
	"math"
	"strings"
	"time"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/layers"
	"mudline/texture"
)

// doubts lists in plain words what makes the reading less sure, gravest first,
// each with what would settle it where anything would.
func doubts(shots []*shot, rec *record.Record, tex *texture.Result) []reading.Warning {
	var d doubtList
	if tex == nil {
		d.add("nothing_seen", "no boundary could be seen in any photo, so no percentages are given", "wait a day and take another photo in better light, or place the lines by hand with --line")
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

func (d *doubtList) add(code, text, remedy string) {
	*d = append(*d, reading.Warning{Code: code, Text: text, Remedy: remedy})
}

// layers says which boundaries the last photo does not show.
func (d *doubtList) layers(last *shot, rec *record.Record) {
	place := func(line string) string {
		return fmt.Sprintf("if you see the line, place it: --line %s:%s=...px", last.file, line)
	}
	sandSilt, siltClay := last.noted(layers.NoteSandSilt), last.noted(layers.NoteSiltClay)
	switch {
	case sandSilt && siltClay:
		d.add("one_layer", "no line could be seen within the soil: sand, silt and clay are not told apart by eye, only by how fast the soil settled",
			"look at the jar with a lamp beside it; "+place(record.SandTop))
	case sandSilt:
		d.add(layers.NoteSandSilt, "sand and silt are not told apart in the last photo", place(record.SandTop))
	case siltClay:
		d.add(layers.NoteSiltClay, "silt and clay are not told apart in the last photo", place(record.SiltTop))
	}
	if last.noted(layers.NoteCloudy) {
		text := "the water is still cloudy after %s: that is clay which has not settled; it is counted as clay, in no layer"
		if last.elapsed.Time < siltDown(rec) {
			text = "the water is still cloudy after %s: that is clay and fine silt which have not settled; they are counted, but in no layer"
		}
		d.add(layers.NoteCloudy, fmt.Sprintf(text, record.FormatElapsed(last.elapsed.Time)),
			"one more photo when the water has cleared would make the clay surer")
	}
}

// siltDown is when the finest silt, of 2 um, has fallen the whole depth of clear water.
func siltDown(rec *record.Record) time.Duration {
	depthMM, tempC := rec.WaterDepthMM, float64(texture.RoomTempC)
	if depthMM == 0 {
		depthMM = texture.UsualDepthMM
	}
	if rec.TempC != nil {
		tempC = *rec.TempC
	}
	return time.Duration(depthMM / texture.NewFluid(tempC, texture.QuartzDensity).SettlingMMS(2) * float64(time.Second))
}

// stated says what a person could have told and did not.
func (d *doubtList) stated(rec *record.Record) {
	if rec.WaterDepthMM == 0 {
		d.add("no_water_depth", "the water depth is not known: settling times depend on it, so the result is less sure, and heights are given in percent of it",
			"measure from the inside floor to the water's surface and give --water-depth")
	}
	if rec.TempC == nil {
		d.add("no_temperature", fmt.Sprintf("the water's temperature is not known: about %d C is assumed", assumedTempC), "give --temp; each degree changes settling times by about 2.4 %")
	}
	if rec.Dispersant != nil && !*rec.Dispersant {
		d.add("no_dispersant", "nothing was put in to part the clay: some of it may have stayed in crumbs or clumps that fall like silt and sand, so there may be more clay than the layers show",
			"next time add a level teaspoon of powdered dishwasher detergent and shake for ten minutes")
	}
	if rec.DrySoilG > 0 && rec.WaterDepthMM == 0 {
		d.add("soil_unused", "the weight of the soil could not be used, since the water depth is not known", "measure from the inside floor to the water's surface and give --water-depth")
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
		d.add("single_photo", "there is one photo only: nothing shows how fast the soil settled", "next time take one at 1 minute, one at 2 hours and one at 2 days")
	case first > earlyPhoto:
		d.add("no_early_photo", fmt.Sprintf("the first photo was taken after %s: the sand was down long before", record.FormatElapsed(first)), "next time take one at about 1 minute")
	}
	if last < latePhoto {
		d.add("short", fmt.Sprintf("the last photo was taken after %s, while fine silt and clay were still falling", record.FormatElapsed(last)), "take another photo after a day or two")
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
		d.add("jar_outline_unsure", fmt.Sprintf("%s: the line taken for the water's surface does not look like one, so in one of the photos (%s) the sides of the glass or the water may be placed wrongly",
			strings.Join(unlike, ", "), strings.Join(all, ", ")), "look at the outlines on the annotated photos (--out); where one is wrong, place its sides and its water: --line FILE:left=...px and so on")
	}
}

// photo says what is doubtful about one photo.
func (d *doubtList) photo(s *shot, of int) {
	if p := s.jarProbability(); p != nil && *p < sureJar {
		d.add("jar_unsure", fmt.Sprintf("%s: what is outlined looks only somewhat like a jar (%.0f in 100)", s.file, 100**p),
			"look at the outline on the annotated photo (--out); if it is wrong, draw a box round the jar: --box x0,y0,x1,y1")
	}
	if w, ok := turnDoubt(s); ok {
		d.add(w.Code, w.Text, w.Remedy)
	}
	for _, q := range s.photo.Quality.Doubts() {
		d.add(q.Code, s.file+": "+q.Text, "")
	}
	if s.place.WaterSD > unsureWater {
		d.add("water_line_unsure", s.file+": one photo of clear water does not show for sure where its surface is, which makes every height less sure", "add a photo taken about a minute after shaking, or place the surface: --line "+s.file+":water=...px")
	}
	if !s.place.WaterSeen {
		if of > 1 {
			d.add("water_line_unseen", s.file+": the water's surface does not show and was placed by the other photos", "")
		} else {
			d.add("water_line_unseen", s.file+": the water's surface does not show and was guessed", fmt.Sprintf("place it: --line %s:water=...px", s.file))
		}
	}
	for _, text := range s.gaveWay {
		d.add("line_gave_way", text, "if you see that line, place it with --line")
	}
	for _, n := range s.layers.Notes {
		switch n.Code {
		case layers.NoteSandSilt, layers.NoteSiltClay, layers.NoteCloudy: // said of the last photo
		default:
			d.add(n.Code, s.file+": "+n.Text, "")
		}
	}
}

// surprises names the lines that do not fit the others.
func (d *doubtList) surprises(shots []*shot, rec *record.Record, found []texture.Surprise) {
	name := map[texture.Line]string{texture.DepositTopLine: "top of the soil", texture.SandTopLine: "top of the sand", texture.SiltTopLine: "top of the silt"}
	unit := "mm"
	if rec.WaterDepthMM == 0 {
		unit = "% of the water depth"
	}
	for _, x := range found {
		file := shots[x.Photo].file
		d.add("odd_line", fmt.Sprintf("%s: the %s was read at %.0f %s, but all lines together make about %.0f %s likely", file, name[x.Line], x.MM, unit, x.ExpectedMM, unit),
			"look at the line on the annotated photo (--out); if it is wrong, place it with --line")
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
