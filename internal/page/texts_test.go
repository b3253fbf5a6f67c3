package page

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/advice"
	"mudline/internal/desk"
	"mudline/internal/jar"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture"
	"mudline/texture/feel"
	"mudline/texture/moisture"
)

// texts gathers what is said to a person, by its English.
type texts map[string]words.Message

func (x texts) add(list ...words.Message) {
	for _, m := range list {
		if !m.IsZero() {
			x[m.String()] = m
		}
	}
}

func (x texts) fail(err error) {
	var r *reading.Refusal
	var p *imaging.Refusal
	switch {
	case errors.As(err, &r):
		x.add(r.Message(), r.Help())
	case errors.As(err, &p):
		x.add(p.Text, p.Remedy)
	case err != nil:
		x.add(words.Of(err))
	}
}

func (x texts) meaning(m *reading.Meaning) {
	if m == nil {
		return
	}
	for _, s := range append(append(slices.Clone(m.Lines), m.More...), m.Laboratory) {
		x.add(s.Message())
	}
}

func (x texts) answer(t *testing.T, a desk.Answer, err error) {
	x.fail(err)
	if a.Refused != nil {
		x.add(a.Refused.Message(), a.Refused.Help())
	}
	if a.Reading == nil {
		return
	}
	var r reading.Reading
	require.NoError(t, json.Unmarshal(a.Reading, &r))
	x.add(r.Reason())
	for _, w := range r.Warnings {
		x.add(w.Message(), w.Help())
	}
	for _, c := range r.Causes {
		x.add(c.Message())
	}
	if h := r.Hand; h != nil {
		x.add(h.Message())
		x.add(h.QuestionsSaid...)
		for _, s := range h.Reasons {
			x.add(s.Message(), s.Help())
		}
	}
	x.meaning(r.Meaning)
}

// Whatever the program says in the page is in every language and speaks of no command
// line; nothing of it is a text that no catalogue has.
func TestNothingSaidStaysEnglish(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	x := texts{}
	x.samples(t)
	x.files(t)
	x.mistakes(t)
	x.advice(t)
	x.hands()
	x.physics(t)
	require.Greater(t, len(x), 500)
	foreign := regexp.MustCompile(`(^|[\s("])--?[a-z]|reading\.json|mudline [a-z]+ --`)
	prose := regexp.MustCompile(`[a-z]{2,}[,;:]? [a-z]{2,} [a-z]{2,}`)
	for _, tag := range words.Tags() {
		l, err := words.Find(tag)
		require.NoError(t, err)
		page := l.In(words.Setting{Surface: words.Page})
		for english, m := range x {
			said := page.Say(m)
			assert.NotRegexp(t, foreign, said, "%s: %s", tag, english)
			if tag != "en" && prose.MatchString(english) {
				assert.NotEqual(t, english, said, tag)
			}
			m.Each(func(inner words.Message) {
				if text, ok := inner.Arg("text").(words.Text); ok && inner.Key == "as-it-is" {
					assert.NotRegexp(t, prose, string(text), "%s is in no catalogue", english)
				}
			})
		}
	}
}

// with is a record with some keys stated otherwise; nil takes a key away.
func with(t *testing.T, tree record.Tree, changes record.Tree) []byte {
	out := maps.Clone(tree)
	for k, v := range changes {
		if out[k] = v; v == nil {
			delete(out, k)
		}
	}
	text, err := json.Marshal(out)
	require.NoError(t, err)
	return text
}

// samples reads the sample jars in many ways, as the page does.
func (x texts) samples(t *testing.T) {
	d := desk.New(imaging.PureGo{})
	all := record.Tree{}
	var first []string
	for _, folder := range []string{"plot-07-by-the-brook", "plot-12-old-orchard", "plot-23-below-the-terrace"} {
		dir := filepath.Join("..", "..", "samples", folder)
		text, err := os.ReadFile(filepath.Join(dir, record.FileName))
		require.NoError(t, err)
		tree, err := record.ParseTree(record.FileName, text)
		require.NoError(t, err)
		paths, err := filepath.Glob(filepath.Join(dir, "*.jpg"))
		require.NoError(t, err)
		require.Len(t, paths, 3)
		var names []string
		for _, path := range paths {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			names = append(names, filepath.Base(path))
			_, err = d.Open(filepath.Base(path), data, nil, with(t, tree, nil))
			require.NoError(t, err)
		}
		a, err := d.Read(context.Background(), with(t, tree, nil), names)
		x.answer(t, a, err)
		require.NotNil(t, a.Reading)
		x.previews(t, d, tree, names)
		x.reads(t, d, tree, names)
		if first == nil {
			first, all = names, tree
		}
	}
	a, err := d.Read(context.Background(), with(t, all, record.Tree{"photos": map[string]any{"IMG_0415.jpg": map[string]any{"elapsed": "2h"}, "IMG_0431.jpg": map[string]any{"elapsed": "2d"}}}),
		[]string{first[2], "IMG_0415.jpg", "IMG_0431.jpg"})
	x.answer(t, a, err)
	require.NotNil(t, a.Refused, "two jars")
}

// previews are readings of photos that stay as they are.
func (x texts) previews(t *testing.T, d *desk.Desk, tree record.Tree, names []string) {
	sandy := map[string]any{"hands": "practised", "ball": "none", "grit": "strong", "smooth": "none", "sticky": "none", "ribbons": []any{"none"}}
	clayey := map[string]any{"ball": "firm", "failure": "deforms", "grit": "none", "sticky": "strong", "ribbons": []any{"80 mm", "95 mm"}, "colour-moist": "black", "stones-out": "no", "kneaded": "no"}
	loamy := map[string]any{"ball": "firm", "failure": "cracks", "grit": "some", "smooth": "some", "sticky": "some", "ribbons": []any{"20 mm", "1 in"}, "moistened": "no"}
	for _, change := range []record.Tree{{"hand": sandy, "crop": "apple"}, {"hand": clayey, "crop": "lawn", "organic-matter": "4 %"}, {"hand": loamy, "daily-use": "3.5 mm", "rooting-depth": "450 mm"},
		{"hand": map[string]any{"smell": "sour"}}, {"hand": map[string]any{"smell": "fuel", "ball": "none", "failure": "cracks"}}, {"hand": map[string]any{"smell": "rotten egg"}, "organic-matter": "12 %"},
		{"system": "german"}, {"system": "canadian", "temp": nil}} {
		a, err := d.Preview(with(t, tree, change))
		x.answer(t, a, err)
	}
	lines := func(of map[string]any) record.Tree {
		return record.Tree{"photos": map[string]any{names[len(names)-1]: map[string]any{"elapsed": "2d", "lines": of}}}
	}
	for _, of := range []map[string]any{{"sand-top": "90 mm"}, {"sand-top": "20 mm", "silt-top": "10 mm", "deposit-top": "5 mm"}, {"deposit-top": "140 mm"}, {"silt-top": "2 px"}, {"floor": "99999 px"},
		{"left": "500 px", "right": "400 px"}, {"left": "99999 px"}, {"floor": "500 px", "water": "500 px"}, {"sand-top": "3 mm"}} {
		a, err := d.Preview(with(t, tree, lines(of)))
		x.answer(t, a, err)
	}
}

// reads leave out photos, or what is known of the jar.
func (x texts) reads(t *testing.T, d *desk.Desk, tree record.Tree, names []string) {
	for _, of := range [][]string{names[:1], names[1:2], names[2:]} {
		a, err := d.Read(context.Background(), with(t, tree, record.Tree{"water-depth": nil, "temp": nil}), of)
		x.answer(t, a, err)
	}
	swapped := map[string]any{}
	for i, n := range names {
		swapped[n] = map[string]any{"elapsed": []string{"3d", "2d", "1min"}[i]}
	}
	for _, change := range []record.Tree{{"photos": swapped}, {"shaken": nil}, {"shaken": "2030-01-01 10:00"}, {"shaken": "1999-01-01 10:00"}, {"shaken": "2026-05-30 10:21"}} {
		a, err := d.Read(context.Background(), with(t, tree, change), names)
		x.answer(t, a, err)
	}
}

// files are photos that cannot be read, and pictures in which nothing can be.
func (x texts) files(t *testing.T) {
	d := desk.New(imaging.PureGo{})
	open := func(name string, data []byte) {
		o, err := d.Open(name, data, nil, []byte("{}"))
		x.fail(err)
		if err == nil && o.File != "" {
			a, err := d.Read(context.Background(), []byte(`{"water-depth":"130 mm"}`), []string{name})
			x.answer(t, a, err)
		}
	}
	scene := spoilt(t, x)
	jpg, pic := encoded(t, scene, false), encoded(t, scene, true)
	broken := slices.Clone(jpg)
	for i := len(broken) / 2; i < len(broken)/2+2000; i++ {
		broken[i] = byte(i)
	}
	box := func(brand string) []byte {
		return []byte("\x00\x00\x00\x18ftyp" + brand + "\x00\x00\x00\x00" + brand + brand + "xxxxxxxx")
	}
	for name, data := range map[string][]byte{"a.jpg": {}, "a.gif": []byte("GIF89a......"), "b.jpg": jpg[:len(jpg)/2], "c.jpg": broken, "d.png": pic[:len(pic)/2], "e.txt": []byte("Xxxxx xxxx xxxxx"),
		"f.heic": box("heic"), "g.heic": box("avif"), "h.jpg": box("Xxxx"), "i.jpg": jpg[:20], "j.png": append(slices.Clone(pic[:8]), pic[20:]...), "k.jpg": {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, "l.webp": []byte("RIFF\xff\xff\x00\x00WEBPVP8 \x00\x00\x00\x00"),
		"small_2h.png": encoded(t, flat(60, 80, 128), true), "long_2h.png": encoded(t, flat(300, 3000, 128), true), "dark_2h.jpg": encoded(t, flat(600, 800, 0), false), "even_2h.jpg": encoded(t, flat(600, 800, 128), false),
		"blurred_2h.jpg": encoded(t, jartest.Blurred(scene, 12), false)} {
		open(name, data)
	}
	for _, data := range [][]byte{[]byte("no zip"), {}} {
		_, err := desk.ReadPack(data)
		x.fail(err)
	}
	_, err := desk.Pack{}.Write()
	x.fail(err)
	for name, request := range map[string]string{"picture": `{"file":"a.jpg"}`, "times": `{"water-depth":"9 Xx"}`} {
		_, err := d.Ask(name, []byte(request))
		x.fail(err)
	}
	_, err = d.Ask("report", []byte("{}"))
	x.fail(err)
}

func flat(w, h int, shade uint8) *image.RGBA {
	pic := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(pic, pic.Rect, image.NewUniform(color.RGBA{shade, shade, shade, 255}), image.Point{}, draw.Src)
	return pic
}

func encoded(t *testing.T, pic image.Image, lossless bool) []byte {
	var b bytes.Buffer
	if lossless {
		require.NoError(t, png.Encode(&b, pic))
	} else {
		require.NoError(t, jpeg.Encode(&b, pic, &jpeg.Options{Quality: 92}))
	}
	return b.Bytes()
}

// spoilt reads pictures of a sample jar from which the jar or the soil is gone,
// and gives the last sound one.
func spoilt(t *testing.T, x texts) *image.RGBA {
	path := filepath.Join("..", "..", "samples", "plot-07-by-the-brook", "brook_49h.jpg")
	analyse := func(name string, data []byte) *jar.Result {
		r, err := jar.Analyse(context.Background(), []jar.File{{Name: name, Data: func() ([]byte, error) { return data, nil }}}, record.Record{WaterDepthMM: 132}, jar.Options{})
		x.fail(err)
		return r
	}
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	s := analyse("brook_49h.jpg", data).Scenes[0]
	analyse("a_2d.jpg", encoded(t, jartest.WithoutJar(s.Picture, s.Frame), false))
	analyse("b_2d.jpg", encoded(t, jartest.ClearWater(s.Picture, s.Frame, 0.35), false))
	analyse("c_1min.jpg", encoded(t, jartest.StillMixed(s.Picture, s.Frame, 0.35), false))
	analyse("d.jpg", encoded(t, s.Picture, false))
	return s.Picture
}

// mistakes are records that cannot be.
func (x texts) mistakes(t *testing.T) {
	hand := func(k string, v any) record.Tree { return record.Tree{"hand": map[string]any{k: v}} }
	photo := func(k string, v any) record.Tree {
		return record.Tree{"photos": map[string]any{"a b.jpg": map[string]any{k: v}}}
	}
	for _, tree := range []record.Tree{
		{"water-depth": "9 mm"}, {"water-depth": "Xx"}, {"water-depth": "5 Xx"}, {"water-depth": "5 1/0 in"}, {"temp": "70 C"}, {"temp": "Xx"}, {"temp": "20 Xx"}, {"shaken": "Xx"}, {"shaken": "1970-01-01 10:00"},
		{"system": "Xx"}, {"organic-matter": "130 %"}, {"organic-matter": "Xx"}, {"organic-matter": "3 Xx"}, {"crop": "Xx"}, {"rooting-depth": "10 mm"}, {"daily-use": "90 mm"}, {"Xx": "red"}, {"box": "5"},
		{"box": []any{"1", "2", "3"}}, {"box": []any{"1", "2", "3", "x"}}, {"box": []any{"9", "9", "3", "3"}}, {"name": map[string]any{"a": "b"}}, {"hand": "good"},
		hand("grit", "Xx"), hand("ribbons", []any{"30", "1 in", "3 cm"}), hand("ribbons", []any{"9000 mm"}), hand("ribbons", "Xx"), hand("ribbons", "1,25"), hand("ribbons", map[string]any{"a": "b"}), hand("colour-dry", "99YR 4/3"), hand("colour-dry", "10YR 14/3"), hand("colour-dry", "10YR 4/30"),
		hand("colour-dry", "10QX 4/3"), hand("colour-dry", strings.Repeat("Xx", 40)), hand("colour-dry", "Xx\u0007"), hand("Xx", "yes"),
		photo("elapsed", ""), photo("elapsed", "Xx"), photo("elapsed", "Xx"), photo("elapsed", "2h 3d"), photo("elapsed", "90d"), photo("lines", map[string]any{"Xx": "3 px"}), photo("lines", map[string]any{"floor": "3 mm"}),
		photo("lines", map[string]any{"left": "3 mm"}), photo("lines", map[string]any{"water": "-3 px"}), photo("lines", map[string]any{"sand-top": "3 Xx"}), photo("lines", map[string]any{"sand-top": "900 mm"}), photo("lines", map[string]any{"sand-top": "Xx"}),
		photo("lines", map[string]any{"left": "9 px", "right": "3 px"}), photo("lines", map[string]any{"sand-top": "30 mm", "silt-top": "10 mm"}),
	} {
		_, err := tree.Record(record.FileName)
		x.fail(err)
	}
	for _, text := range []string{"a: [", "name: a\nname: b", "name: a\n---\nname: b", "- a", strings.Repeat("#", record.MaxBytes+1)} {
		_, err := record.Parse(record.FileName, []byte(text))
		require.Error(t, err)
		x.fail(err)
	}
}

// advice goes over the triangle, with narrow and wide clouds of soils.
func (x texts) advice(t *testing.T) {
	crops, n := moisture.Crops(), 0
	for sand := 2.0; sand < 100; sand += 8 {
		for clay := 2.0; sand+clay <= 98; clay += 8 {
			for _, width := range []float64{0.5, 6, 20} {
				n++
				o := advice.Options{Smell: []feel.Smell{feel.NoSmell, feel.Earthy, feel.Sour, feel.RottenEgg, ""}[n%5]}
				if n%3 == 0 {
					o.Crop = &crops[n%len(crops)]
				}
				if n%4 == 0 {
					o.DailyUseMM, o.RootingDepthMM = 0.5+float64(n%9), 200+float64(n%5)*200
				}
				if n%7 == 0 {
					o.OrganicMatter = reading.Ptr(float64(n%6) * 2.6)
				}
				r := reading.Reading{System: []string{"usda", "canadian"}[n%2], Fractions: &reading.Fractions{}, Suspension: &reading.Estimate{Percent: float64(n % 3)}}
				for i := range 60 { // a sunflower round the middle
					a, far := 2.4*float64(i), width*math.Sqrt(float64(i)/60)
					f := texture.Fractions{Sand: max(sand+far*math.Cos(a), 0), Clay: max(clay+far*math.Sin(a), 0)}
					f.Silt = max(100-f.Sand-f.Clay, 0)
					f = f.Normalised()
					r.Soils = append(r.Soils, [3]float64{f.Sand, f.Silt, f.Clay})
				}
				if n%11 == 0 {
					r.Hand = &reading.Hand{Verdict: string(feel.Disagree)}
				}
				m := advice.Of(r, o)
				require.NotNil(t, m)
				x.meaning(m)
			}
		}
	}
	for _, s := range advice.Cautions() {
		x.add(s.Message())
	}
	for _, c := range crops {
		x.add(words.WordOf("crop", c.Name), words.WordOf("crop", c.Plants))
	}
}

// hands are the hand test, what it asks back, and why it may differ.
func (x texts) hands() {
	for _, q := range feel.Questions() {
		x.add(q.Do, q.How, q.Ask, q.Example)
		for _, c := range q.Choices {
			x.add(c.Label)
		}
	}
	for _, ribbons := range [][]float64{nil, {0}, {60, 70}, {5, 80}, {-1}, {400}, {math.NaN()}} {
		for _, ball := range []feel.Ball{feel.NoBall, feel.FirmBall} {
			for _, failure := range []feel.Failure{feel.FallsApart, feel.Cracks, feel.Deforms} {
				for _, much := range []feel.Degree{feel.None, feel.Strong} {
					for _, q := range feel.Check(feel.Observation{RibbonsMM: ribbons, Ball: ball, Failure: failure, Grit: much, Smooth: much, Sticky: much, Moistened: feel.No}) {
						x.add(q)
					}
				}
			}
		}
	}
	for _, soil := range []texture.Fractions{{Sand: 90, Silt: 5, Clay: 5}, {Sand: 10, Silt: 80, Clay: 10}, {Sand: 20, Silt: 20, Clay: 60}} {
		for _, o := range []feel.Observation{{RibbonsMM: []float64{70}, Sticky: feel.Strong, ColourMoist: "black"}, {RibbonsMM: []float64{0}, Grit: feel.Strong, StonesOut: feel.No, Moistened: feel.No, Kneaded: feel.No}, {Smooth: feel.Strong, Sticky: feel.Strong}} {
			for _, r := range feel.Reasons(o, feel.Jar{Soils: []texture.Fractions{soil}, Cloudy: true, RulerClay: 90}) {
				x.add(r.Text, r.Remedy)
			}
		}
	}
}

// physics is why a reading differs from a ruler's, and where its doubt is from.
func (x texts) physics(t *testing.T) {
	for _, kind := range []texture.CauseKind{texture.HeightsCause, texture.TimesCause, texture.TempCause, texture.DepthCause, texture.PackingCause, texture.FlocCause, texture.CurveCause, texture.DensityCause, texture.HindranceCause} {
		for _, share := range []float64{0.05, 0.5, 0.9} {
			x.add(texture.Cause{Kind: kind, Share: share}.Text())
		}
	}
	h := func(mm float64) *texture.Height { return &texture.Height{Share: mm / 130, SD: 0.5 / 130} }
	for _, last := range []texture.Observation{{DepositTop: h(40), SandTop: h(20), SiltTop: h(30)}, {DepositTop: h(40), SandTop: h(36), SiltTop: h(39)}, {DepositTop: h(40), SandTop: h(5), SiltTop: h(8)}, {DepositTop: h(30), SandTop: h(10), SiltTop: h(29.5)}, {DepositTop: h(30)}} {
		last.ElapsedS = 2 * 86400
		r, err := texture.Invert([]texture.Observation{{ElapsedS: 60, DepositTop: &texture.Height{Share: last.DepositTop.Share / 2, SD: last.DepositTop.SD}}, last}, texture.Setup{WaterDepthMM: 130, Quick: true})
		require.NoError(t, err)
		x.add(r.Reason.Text)
	}
	for _, setup := range []texture.PlanSetup{{WaterDepthMM: 3}, {Photos: 1000}} {
		_, err := texture.Plan(setup)
		x.fail(err)
	}
	for _, f := range []texture.Fractions{{Sand: 120}, {Sand: 50}} {
		_, err := texture.ClassOf(f, texture.USDA)
		x.fail(err)
	}
}
