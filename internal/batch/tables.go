package batch

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"mudline/internal/files"
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/spreadsheet"
	"mudline/internal/words"
)

// The tables of a batch, in its folder of results.
const (
	csvName   = "results.csv"
	jsonlName = "results.jsonl"
	indexName = "index.html"
)

// tables writes what says something of all jars at once.
type tables struct {
	lang *words.Language // of the index page; nil is English
	out  string
	rows []Row
	left []Left
	gone []Gone
}

// save writes the tables and, last, the list of what they hold. Nothing is
// touched where nothing has changed. A part of a batch gets its list alone: its
// tables come with the other parts'.
func (r *runner) save(jars []*Jar) error {
	m := r.manifest()
	var rows []Row
	for _, j := range jars {
		if res, ok := r.have[j.ID]; ok {
			rows = append(rows, res.Row)
		}
	}
	return saveAll(tables{r.opt.Language, r.opt.Out, rows, m.Left, m.Gone}, m, r.opt.Shard)
}

func saveAll(t tables, m *manifest, s Shard) error {
	data, err := m.encode()
	if err != nil {
		return err
	}
	path := filepath.Join(t.out, manifestName(s))
	if old, err := os.ReadFile(path); err == nil && bytes.Equal(old, data) && (s != whole || t.there()) {
		return nil
	}
	if s == whole {
		if err := t.write(); err != nil {
			return &WriteError{t.out, err}
		}
	}
	if err := files.Write(path, func(w io.Writer) error { _, err := w.Write(data); return err }); err != nil {
		return &WriteError{t.out, err}
	}
	return nil
}

func (t *tables) there() bool {
	for _, name := range []string{csvName, jsonlName, indexName} {
		if _, err := os.Stat(filepath.Join(t.out, name)); err != nil {
			return false
		}
	}
	return true
}

func (t *tables) write() error {
	for _, f := range []struct {
		name string
		fill func(io.Writer) error
	}{{csvName, t.csv}, {jsonlName, t.jsonl}, {indexName, t.index}} {
		if err := files.Write(filepath.Join(t.out, f.name), f.fill); err != nil {
			return err
		}
	}
	return nil
}

// Columns are those of results.csv.
var Columns = []string{"jar", "place", "folder", "status", "second_look", "photos", "last_photo_h", "water_depth_mm", "temp_c", "temp_from",
	"system", "sand_percent", "sand_low", "sand_high", "silt_percent", "silt_low", "silt_high", "clay_percent", "clay_low", "clay_high",
	"class", "class_probability", "other_classes", "in_suspension_percent", "warnings", "reason", "what_to_do", "engine", "class_named"}

// csv writes a line a jar as RFC 4180 has it, in UTF-8 behind a byte order mark,
// without which some spreadsheets take it for another encoding. Cells are empty
// where nothing was told. A class that is not likely stands in class_named with the
// others it could be, as on the page.
func (t *tables) csv(w io.Writer) error {
	if _, err := io.WriteString(w, spreadsheet.BOM); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.Write(Columns); err != nil {
		return err
	}
	for i := range t.rows {
		if err := out.Write(t.rows[i].cells()); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func (r *Row) cells() []string {
	cells := []string{spreadsheet.Text(r.Name), spreadsheet.Text(r.ID), spreadsheet.Text(r.Folder), r.Status, spreadsheet.Text(strings.Join(r.second(), "; ")), fmt.Sprint(r.Photos)}
	if r.Status == StatusRead {
		cells = append(cells, rounded(r.LastS/3600, 2), optional(r.WaterDepthMM), spreadsheet.Number(r.TempC), r.TempFrom, r.System)
	} else {
		cells = append(cells, "", "", "", "", "")
	}
	if f := r.Fractions; f != nil {
		for _, e := range []reading.Estimate{f.Sand, f.Silt, f.Clay} {
			cells = append(cells, rounded(e.Percent, 1), rounded(e.Low, 1), rounded(e.High, 1))
		}
	} else {
		cells = append(cells, make([]string, 9)...)
	}
	class, probability, named := "", "", ""
	var others []string
	if c := r.Class; c != nil {
		class, probability = c.Name, rounded(c.Probability, 3)
		name, _ := report.Verdict(*c)
		named = name.String()
		for _, o := range c.Others {
			others = append(others, o.Name+" "+rounded(o.Probability, 3))
		}
	}
	suspension := ""
	if r.Suspension != nil {
		suspension = rounded(r.Suspension.Percent, 1)
	}
	no := reading.Refusal{}
	if r.Refused != nil {
		no = *r.Refused
	}
	return append(cells, class, probability, strings.Join(others, "; "), suspension,
		strings.Join(r.Warnings, " "), spreadsheet.Text(no.Text), spreadsheet.Text(no.Remedy), r.Engine, named)
}

// rounded leaves out digits that no jar can tell; results.jsonl has them.
func rounded(v float64, digits int) string {
	unit := math.Pow10(digits)
	return spreadsheet.Number(math.Round(v*unit) / unit)
}

func optional(v *float64) string {
	if v == nil {
		return ""
	}
	return spreadsheet.Number(*v)
}

// line is a line of results.jsonl: the jar with its reading, or the refusal.
type line struct {
	Jar     string           `json:"jar"`
	Place   string           `json:"place"`
	Folder  string           `json:"folder"`
	Status  string           `json:"status"`
	Doubts  []string         `json:"second_look,omitempty"`
	Reading json.RawMessage  `json:"reading,omitempty"`
	Refused *reading.Refusal `json:"refused,omitempty"`
}

// jsonl writes a line a jar, with the reading as its reading.json holds it.
func (t *tables) jsonl(w io.Writer) error {
	out := json.NewEncoder(w)
	for i := range t.rows {
		r := &t.rows[i]
		l := line{Jar: r.Name, Place: r.ID, Folder: r.Folder, Status: r.Status, Doubts: r.second(), Refused: r.Refused}
		if r.Refused == nil {
			data, err := os.ReadFile(filepath.Join(t.out, r.Folder, reading.FileName))
			if err != nil {
				return err
			}
			l.Reading = data
		}
		if err := out.Encode(l); err != nil {
			return fmt.Errorf("%s: %w", r.Folder, err)
		}
	}
	return nil
}
