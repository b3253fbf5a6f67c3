package batch

import (
	"bufio"
	"cmp"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"mudline/internal/chart"
	"mudline/internal/reading"
	"mudline/internal/report"
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
	//go:embed page/index.html
	indexHTML string
	//go:embed page/index.css
	indexCSS string
	//go:embed page/index.js
	indexJS string
)

var indexTemplate = template.Must(template.New(indexName).Funcs(template.FuncMap{
	"percent": func(v float64) string { return fmt.Sprintf("%.0f", v) },
	"verdict": func(c reading.Class) []string {
		name, certainty := report.Verdict(c)
		return []string{capital(name), capital(certainty)}
	},
	"capital": capital,
	"sentence": func(s string) string {
		if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
			return s
		}
		return s + "."
	},
}).Parse(indexHTML))

// capital begins a sentence, unless it begins with the name of a file.
func capital(s string) string {
	word, _, _ := strings.Cut(s, " ")
	about, _, colon := strings.Cut(s, ":")
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 || strings.ContainsAny(word, fileSigns) || colon && strings.ContainsAny(about, fileSigns) {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// fileSigns are in names of files rather than in words.
const fileSigns = `./\_`

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
	c := reading.Colours{}
	if r.Colours != nil {
		c = *r.Colours
	}
	parts := []barPart{{Name: "Sand", E: f.Sand, Colour: cmp.Or(c.Sand, "#c9a86a")}, {Name: "Silt", E: f.Silt, Colour: cmp.Or(c.Silt, "#97724c")}, {Name: "Clay", E: f.Clay, Colour: cmp.Or(c.Clay, "#6d4433")}}
	at := 0.0
	for i := range parts {
		parts[i].From = math.Round(at*10) / 10
		at += parts[i].E.Percent
		parts[i].Width = math.Round(parts[i].E.Percent*10) / 10
	}
	return parts
}

// barPart is a part of the bar, in percent.
type barPart struct {
	Name        string
	E           reading.Estimate
	Colour      string
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
	for _, l := range t.left {
		v.Left = append(v.Left, Left(l))
	}
	v.Left = Gather(v.Left)
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
	v.Triangles = triangles(v.Rows)
	first := func(a, b indexRow) int { return cmp.Compare(b.Rank(), a.Rank()) }
	slices.SortStableFunc(v.Rows, first)
	slices.SortStableFunc(v.Look, first)
	open := min(len(v.Look), max(mostOpen, v.Refused))
	v.Look, v.More = v.Look[:open], v.Look[open:]
	out := bufio.NewWriter(w)
	if err := indexTemplate.Execute(out, v); err != nil {
		return err
	}
	return out.Flush()
}

// triangle is the jars of one class system on its triangle.
type triangle struct {
	Wide, Narrow template.HTML
	// Named says that the dots bear the jars' numbers.
	Named bool
}

// mostNamed is how many dots can bear a number, wide and narrow.
var mostNamed = [2]int{60, 20}

// triangles draws all jars that have fractions, each system's by themselves.
func triangles(rows []indexRow) (list []triangle) {
	for _, system := range texture.Systems() {
		var soils []chart.Soil
		for _, r := range rows {
			if r.Fractions == nil || r.System != system.String() {
				continue
			}
			s := chart.Soil{Label: strconv.Itoa(r.Number), Name: r.Name, Fractions: *r.Fractions}
			if r.Class != nil {
				s.Class = r.Class.Name
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
			return template.HTML(chart.Triangle(soils, system, chart.Options{ID: "jars-" + system.String() + name, Width: width}).SVG())
		}
		t := triangle{Named: len(soils) <= mostNamed[0]}
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
