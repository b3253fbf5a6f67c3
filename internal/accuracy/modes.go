package main

import (
	"context"
	"os"
	"path/filepath"

	"mudline/imaging"
	"mudline/internal/jar"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/layers"
)

// mode is a way of reading a jar: which true lines are placed in each photo, as
// --line would place them.
type mode struct {
	name, short string
	placed      []layers.Line
}

var modes = []mode{
	{"unaided", "unaided", nil},
	{"all true lines placed", "all lines", []layers.Line{layers.Floor, layers.SandTop, layers.SiltTop, layers.DepositTop, layers.Water, layers.Left, layers.Right}},
	{"true floor, water and deposit top placed", "frame, top", []layers.Line{layers.Floor, layers.DepositTop, layers.Water}},
}

// got is what came of a jar in one mode.
type got struct {
	mode    string // its short name
	reading reading.Reading
	err     error
	// unaided is the reading without lines placed; nil in that mode, or where
	// there is none.
	unaided *reading.Reading
}

// readIn reads a jar in every mode. Its photos are opened once.
func readIn(asked []mode, t *jartest.Truth, eng imaging.Engine, in *light) []got {
	out := make([]got, len(asked))
	opened, err := openAll(t, eng, in)
	for i, m := range asked {
		out[i] = got{mode: m.short, err: err}
		if err != nil {
			continue
		}
		rec, err := knownOf(t)
		for _, p := range t.Photos {
			rec.Edit(p.File, func(q *record.Photo) { place(&q.Lines, m.placed, t, p) })
		}
		var res *jar.Result
		if err == nil {
			res, err = jar.Combine(context.Background(), opened, rec, jar.Options{Engine: eng})
		}
		if out[i].err = err; err == nil {
			out[i].reading = res.Reading
		}
		if i > 0 && out[0].err == nil {
			out[i].unaided = &out[0].reading
		}
	}
	return out
}

// knownOf is what a person knows of a jar: its depth, temperature and time.
func knownOf(t *jartest.Truth) (record.Record, error) {
	shaken, err := record.ParseMoment(t.ShakeTime)
	return record.Record{Name: t.Name, WaterDepthMM: t.WaterHeightMM, TempC: &t.TempC, Shaken: shaken}, err
}

func openAll(t *jartest.Truth, eng imaging.Engine, in *light) ([]*jar.Opened, error) {
	rec, err := knownOf(t)
	if err != nil {
		return nil, err
	}
	var out []*jar.Opened
	for _, p := range t.Photos {
		path := filepath.Join(t.Dir, p.File)
		o, err := jar.Open(jar.File{Name: p.File, Data: func() ([]byte, error) {
			data, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			return in.seen(data)
		}}, rec, eng)
		if err != nil {
			return nil, err
		}
		out = append(out, o)
	}
	return out, nil
}

// truePoints are the marks of truth.json that stand for the lines.
var truePoints = map[layers.Line]string{layers.Floor: "inner_base", layers.SandTop: "sand_silt", layers.SiltTop: "silt_clay", layers.DepositTop: "deposit_top"}

// place states the true lines of a photo where it shows them. A silt top that
// lies below the sand top, as a truth may have it under mud, is left out.
func place(lines *record.Lines, names []layers.Line, t *jartest.Truth, p jartest.TruthPhoto) {
	for _, name := range names {
		var at float64
		switch name {
		case layers.Left:
			at = p.Rows.EdgeLeft[0]
		case layers.Right:
			at = p.Rows.EdgeRight[0]
		case layers.Water:
			at = seenWaterRow(t, p)
		default:
			point, ok := p.Rows.Points[truePoints[name]]
			if !ok || name == layers.SiltTop && lines.SandTop != nil && point.Row > lines.SandTop.Value {
				continue
			}
			at = point.Row
		}
		*lines.Place(name) = &record.Line{Value: at}
	}
}

// seenWaterRow is the row of the water that a person sees and states: the upper
// edge of the meniscus. The truth's is the level surface below it.
func seenWaterRow(t *jartest.Truth, p jartest.TruthPhoto) float64 {
	return p.Frame(t.WaterHeightMM).At(0, 1+jar.MeniscusMM/t.WaterHeightMM).Y
}
