package batch

import (
	"bufio"
	"cmp"
	_ "embed"
	"encoding/base64"
	"html/template"
	"io"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"mudline/internal/chart"
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
	"mudline/texture"
)

// The files of a jar that the index page shows, where they are there.
const (
	ThumbName  = "thumb.read.jpg"
	ReportName = "report.html"
)

// pageBytes is how much of thumbnails the index page holds; beyond it they stay
// files beside it.
const pageBytes = 3_500_000

var (
	//go:embed overview/index.html
	indexHTML string
	//go:embed overview/index.css
	indexCSS string
	//go:embed overview/index.js
	indexJS string
)

// speaking are the functions by which the page says something in a language. A text with
// marks of HTML in it gets them by name and value.
func speaking(l *words.Language) template.FuncMap {
	return template.FuncMap{
		"say":      func(key string) string { return l.Text(key) },
		"count":    func(key string, n int) string { return l.Text(key, words.Whole("n", n)) },
		"tell":     l.Sentence,
		"todo":     func(m words.Message) string { return l.Sentence(words.Say("index.what-to-do", words.Told("todo", m))) },
		"percent":  func(v float64) string { return l.Number(v, 0) },
		"language": l.Tag,
		"patterns": report.Patterns,
		"verdict": func(c reading.Class) []string {
			name, certainty := report.Verdict(c)
			return []string{words.Capital(l.Say(name)), words.Capital(l.Say(certainty))}
		},
		"fill": func(key string, marks ...string) template.HTML {
			text := template.HTMLEscapeString(l.Text(key))
			for i := 0; i+1 < len(marks); i += 2 {
				text = strings.ReplaceAll(text, "{"+marks[i]+"}", marks[i+1])
			}
			return template.HTML(text)
		},
	}
}

var indexTemplate = template.Must(template.New(indexName).Funcs(speaking(nil)).Parse(indexHTML))

// indexRow is a jar on the index page.
type indexRow struct {
	Row
	Number int // by which the triangle calls it
	out    string
	Inside bool // the thumbnail goes into the page
}

// Parts are sand, silt and clay, for the bar.
func (r indexRow) Parts() []barPart {
	f := r.Fractions
	if f == nil {
		return nil
	}
	parts := []barPart{{Name: "index.sand", Kind: "sand", E: f.Sand}, {Name: "index.silt", Kind: "silt", E: f.Silt}, {Name: "index.clay", Kind: "clay", E: f.Clay}}
	at := 0.0
	for i := range parts {
		parts[i].From = math.Round(at*10) / 10
		at += parts[i].E.Percent
		parts[i].Width = math.Round(parts[i].E.Percent*10) / 10
	}
	return parts
}

// barPart is a part of the bar, in percent. Name is the key of its name, Kind what
// package look calls it.
type barPart struct {
	Name, Kind  string
	E           reading.Estimate
	From, Width float64
}

// Link leads to the jar's report, or to its reading where there is none.
func (r indexRow) Link() string {
	for _, name := range []string{ReportName, reading.FileName} {
		if _, err := os.Stat(filepath.Join(r.out, r.Folder, name)); err == nil {
			return url.PathEscape(r.Folder) + "/" + name
		}
	}
	return ""
}

// Thumb is the address of the thumbnail; "" without one.
func (r indexRow) Thumb() template.URL {
	path := filepath.Join(r.out, r.Folder, ThumbName)
	if !r.Inside {
		if _, err := os.Stat(path); err != nil {
			return ""
		}
		return template.URL(url.PathEscape(r.Folder) + "/" + ThumbName)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return ""
	}
	return template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(data))
}

// mostOpen is how many jars to look at stand open on the page, unless more of them
// could not be read; the others are folded away.
const mostOpen = 12

// Doubtful is how many jars want a second look.
func (v indexView) Doubtful() int { return len(v.Look) + len(v.More) }

// Outcome says how many were read.
func (v indexView) Outcome() words.Message {
	said := []words.Message{words.Say("index.read", words.Whole("n", v.Read))}
	if v.Refused > 0 {
		said = append(said, words.Say("index.unread", words.Whole("n", v.Refused)))
	}
	return words.Say("as-it-is", words.All("text", "", said))
}

// indexView is what the page shows.
type indexView struct {
	Style         template.CSS
	Script        template.JS
	Policy        string
	Rows          []indexRow
	Look, More    []indexRow // to look at first, and those folded away
	Read, Refused int
	Triangles     []triangle
	Left          []Left
	Gone          []Gone
}

// index writes the page: those that need a second look first, the rest in order
// of place.
func (t *tables) index(w io.Writer) error {
	style := report.CSS() + chart.CSS() + indexCSS
	v := indexView{Style: template.CSS(style), Script: template.JS(indexJS), Policy: report.Policy(style, indexJS), Gone: t.gone}
	v.Left = Gather(t.left)
	inside := t.thumbBytes() <= pageBytes
	if !inside {
		v.Policy = strings.Replace(v.Policy, "img-src data:", "img-src 'self' file:", 1)
	}
	for i, r := range t.rows {
		row := indexRow{r, i + 1, t.out, inside}
		v.Rows = append(v.Rows, row)
		if len(r.Doubts) > 0 {
			v.Look = append(v.Look, row)
		}
		if r.Status == StatusRead {
			v.Read++
		} else {
			v.Refused++
		}
	}
	l := t.lang.In(words.Setting{Surface: words.Batch})
	v.Triangles = triangles(v.Rows, l)
	first := func(a, b indexRow) int { return cmp.Compare(b.Rank(), a.Rank()) }
	slices.SortStableFunc(v.Rows, first)
	slices.SortStableFunc(v.Look, first)
	open := min(len(v.Look), max(mostOpen, v.Refused))
	v.Look, v.More = v.Look[:open], v.Look[open:]
	out := bufio.NewWriter(w)
	page, err := indexTemplate.Clone()
	if err != nil {
		return err
	}
	if err := page.Funcs(speaking(l)).Execute(out, v); err != nil {
		return err
	}
	return out.Flush()
}

// triangle is the jars of one class system on its triangle.
type triangle struct {
	Wide, Narrow template.HTML
	// Named says that the dots bear the jars' numbers, Ranges that their ranges are drawn.
	Named, Ranges bool
}

// mostRanges is how many jars' ranges one triangle has room for.
const mostRanges = 8

// mostNamed is how many dots can bear a number, wide and narrow.
var mostNamed = [2]int{60, 20}

// triangles draws all jars that have fractions, each system's by themselves.
func triangles(rows []indexRow, l *words.Language) (list []triangle) {
	for _, system := range texture.Systems() {
		var soils []chart.Soil
		for _, r := range rows {
			if r.Fractions == nil || r.System != system.String() {
				continue
			}
			s := chart.Soil{Label: strconv.Itoa(r.Number), Name: r.Name, Fractions: *r.Fractions}
			if r.Class != nil {
				s.Classes, _ = r.Class.Named()
			}
			soils = append(soils, s)
		}
		if len(soils) == 0 {
			continue
		}
		draw := func(name string, width float64, most int) template.HTML {
			if len(soils) > most {
				for i := range soils {
					soils[i].Label = ""
				}
			}
			return template.HTML(chart.Triangle(soils, system, chart.Options{ID: "jars-" + system.String() + name, Width: width, Intervals: len(soils) <= mostRanges, Language: l}).SVG())
		}
		t := triangle{Named: len(soils) <= mostNamed[0], Ranges: len(soils) <= mostRanges}
		t.Wide, t.Narrow = draw("-wide", 680, mostNamed[0]), draw("-narrow", 340, mostNamed[1])
		list = append(list, t)
	}
	return list
}

// thumbBytes is what all thumbnails take within a page.
func (t *tables) thumbBytes() int {
	total := 0
	for _, r := range t.rows {
		if info, err := os.Stat(filepath.Join(t.out, r.Folder, ThumbName)); err == nil {
			total += base64.StdEncoding.EncodedLen(int(info.Size()))
		}
	}
	return total
}
