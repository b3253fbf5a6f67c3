package report_test

import (
	"bytes"
	"encoding/base64"
	"encoding/csv"
	"fmt"
	"html"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/draw"

	"mudline/imaging"
	"mudline/internal/jar"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
)

// inputOf is a report's input for a rendered jar as a perfect reader sees it,
// with every part that a reading can have.
func inputOf(t testing.TB, name string) report.ReportInput {
	t.Helper()
	truth, err := jartest.ReadTruth(filepath.Join("..", "..", "testdata", "jars", name))
	require.NoError(t, err)
	in := report.ReportInput{Cautions: []reading.Statement{{Text: "A jar says nothing about nutrients.", Source: "common practice"}}}
	in.Result.Reading = trueReading(truth)
	for _, p := range truth.Photos {
		pic := image.NewRGBA(image.Rect(0, 0, p.Size[0], p.Size[1]))
		draw.Draw(pic, pic.Rect, load(t, filepath.Join(truth.Dir, p.File)), image.Point{}, draw.Src)
		in.Result.Scenes = append(in.Result.Scenes, jar.Scene{File: p.File, Picture: pic, Scale: 1, Frame: p.Frame(truth.WaterHeightMM)})
	}
	r := &in.Result.Reading
	r.Colours = &reading.Colours{Sand: "#e0d59f", Silt: "#cdb57a", Clay: "#c4a96e", Water: "#7a7050"}
	r.Hand, r.Meaning = handsSample(), meaningSample()
	r.Causes = append(r.Causes, reading.Cause{Code: "temperature", Text: "knowing the water's temperature would help a little", Share: 0.2},
		reading.Cause{Code: "hindered_settling", Text: "knowing how much the grains hold each other up would help a little", Share: 0.1})
	random := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		sand, clay := 63+3*random.NormFloat64(), 10+2*random.NormFloat64()
		r.Soils = append(r.Soils, [3]float64{sand, 100 - sand - clay, clay})
	}
	for s := 30.0; s < 400000; s *= 1.6 {
		top := 25 * (1 - math.Exp(-math.Pow(s/60, 0.4)))
		r.Expected = append(r.Expected, reading.Expected{ElapsedS: s, DepositTop: reading.Range{Value: top, Low: top - 1, High: top + 1},
			SandTop: reading.Range{Value: top * 0.6, Low: top*0.6 - 1, High: top*0.6 + 1}, SiltTop: reading.Range{Value: top * 0.8, Low: top*0.8 - 1, High: top*0.8 + 1}})
	}
	return in
}

func handsSample() *reading.Hand {
	sd, odd := 6.0, 0.02
	return &reading.Hand{Said: []reading.Said{{Key: "grit", Value: "strong"}, {Key: "ball", Value: "weak"}}, RibbonMM: &reading.Ribbon{Mean: 23, SD: &sd, Count: 3},
		Questions: []string{"Was the handful moist?"}, Classes: []reading.OtherClass{{Name: "loamy sand", Probability: 0.6}},
		Clay: &reading.Range{Value: 5, Low: 2, High: 9}, Verdict: "disagree", Probability: &odd, Text: "Your hands found less clay than the jar.",
		Reasons: []reading.HandReason{{Code: "clumps", Text: "the clay was still in clumps", Remedy: "knead two minutes more"}},
		Joint:   &reading.Joint{Fractions: *sample().Fractions, Class: sample().Class}}
}

func meaningSample() *reading.Meaning {
	r := func(v float64) reading.Range { return reading.Range{Value: v, Low: 0.8 * v, High: 1.2 * v} }
	s := func(topic string) reading.Statement {
		return reading.Statement{Topic: topic, Text: "A statement about " + topic + ".", Source: "common practice"}
	}
	return &reading.Meaning{OrganicMatter: 3, OrganicMatterFrom: "assumed", FieldCapacity: r(22), WiltingPoint: r(9), AvailableMMPerM: r(130), ConductivityMMH: r(32),
		Bed: reading.Bed{Crop: "beans", RootingDepthMM: 600, RootingDepthFrom: "crop", DailyUseMM: 5, DailyUseFrom: "assumed",
			TotalMM: r(78), ReadilyMM: r(35), Depletion: 0.45, Days: r(7)},
		Lines: []reading.Statement{s("watering"), s("working")}, More: []reading.Statement{s("crusting")}, Laboratory: s("laboratories")}
}

func page(t testing.TB, in report.ReportInput) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, report.HTML(&b, in))
	return b.String()
}

// has and lacks search a page without printing all of it.
func has(t *testing.T, text, part string) {
	t.Helper()
	assert.True(t, strings.Contains(text, part), "the page lacks %q", part)
}

func lacks(t *testing.T, text, part string) {
	t.Helper()
	assert.False(t, strings.Contains(text, part), "the page holds %q", part)
}

func matches(t *testing.T, text, pattern string) {
	t.Helper()
	assert.True(t, regexp.MustCompile(pattern).MatchString(text), "the page has no match of %q", pattern)
}

func TestReportHoldsEveryPart(t *testing.T) {
	text := page(t, inputOf(t, "open-11"))
	for _, part := range []string{"Sandy loam", "57 to 69 %", "How far to trust it", "top of the sand", "After ", "Thickness is not weight", "Wet clay lies loosely",
		"Your hands found less clay", "Knead", "A statement about watering.", "A statement about crusting.", "A jar says nothing about nutrients.", "Error analysis",
		"How tightly the layers are packed", "All measured data", "<math", "Ferguson", "#e0d59f"} {
		has(t, text, part)
	}
	matches(t, text, `50 %</span><svg class="track"[^>]*><rect class="rail"[^>]*><rect class="fill" y="2" width="50"`)
	lacks(t, text, "exact times would help")
	assert.Equal(t, 1, strings.Count(text, "<h1"))
}

// Nothing in the file may lead out of it, and the policy must name the hash of
// the style that stands in it (Content Security Policy Level 3, 6.7.2).
func TestReportLoadsNothing(t *testing.T) {
	text := page(t, inputOf(t, "open-11"))
	for _, m := range regexp.MustCompile(`(?:src|href)="([^"]*)"`).FindAllStringSubmatch(text, -1) {
		assert.Regexp(t, `^(#|data:image/jpeg;base64,)`, m[1])
	}
	// A pattern is in the page itself, or written where it is used.
	inside := regexp.MustCompile(`url\((#part-(sand|silt|clay)|"data:image/svg\+xml,[^"]*")\)`)
	assert.Empty(t, regexp.MustCompile(`(?i)<script|<iframe|<object|<link|@import|url\(| style="`).FindAllString(inside.ReplaceAllString(text, ""), -1))
	style := regexp.MustCompile(`(?s)<style>(.*?)</style>`).FindStringSubmatch(text)
	require.Len(t, style, 2)
	has(t, html.UnescapeString(text), report.Policy(style[1]))
}

// The SHA-256 of the empty text is known to everyone (FIPS 180-4).
func TestPolicyNamesHashes(t *testing.T) {
	const empty = "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='"
	assert.Equal(t, "default-src 'none'; img-src data:; style-src "+empty+"; base-uri 'none'; form-action 'none'", report.Policy(""))
	assert.Contains(t, report.Policy("", ""), "script-src "+empty)
}

func TestNamesAreText(t *testing.T) {
	in := inputOf(t, "open-11")
	nasty := `"><script>alert(1)</script>{{.}}`
	in.Result.Reading.Jar = nasty
	in.Result.Reading.Photos[0].File, in.Result.Scenes[0].File = nasty, nasty
	in.Result.Reading.Warnings[0].Text = nasty
	in.Result.Reading.Colours.Sand = `red" onload="alert(1)`
	text := page(t, in)
	lacks(t, text, "<script>")
	lacks(t, text, `" onload="`)
	has(t, text, html.EscapeString(nasty)[5:30])
}

// pictures are the JPEG files that a report holds.
func pictures(t *testing.T, text string) (out [][]byte) {
	t.Helper()
	for _, m := range regexp.MustCompile(`data:image/jpeg;base64,([^"]*)"`).FindAllStringSubmatch(text, -1) {
		data, err := base64.StdEncoding.DecodeString(html.UnescapeString(m[1]))
		require.NoError(t, err)
		out = append(out, data)
	}
	return out
}

// TestPhotosTellNoPlace: a phone writes where a photo was taken into it (Exif 2.32,
// tags 0x8825, 0x0001 to 0x0004). None of it may come out again, nor the camera's
// serial number or any other text beside the pixels.
func TestPhotosTellNoPlace(t *testing.T) {
	// A little-endian TIFF: IFD0 with the GPS pointer; GPS IFD with latitude
	// 12 degrees 34 minutes 56 seconds north.
	tiff := "II*\x00\x08\x00\x00\x00" +
		"\x01\x00" + "\x25\x88\x04\x00\x01\x00\x00\x00\x1a\x00\x00\x00" + "\x00\x00\x00\x00" +
		"\x02\x00" + "\x01\x00\x02\x00\x02\x00\x00\x00N\x00\x00\x00" + "\x02\x00\x05\x00\x03\x00\x00\x00\x38\x00\x00\x00" + "\x00\x00\x00\x00" +
		"\x0c\x00\x00\x00\x01\x00\x00\x00\x22\x00\x00\x00\x01\x00\x00\x00\x38\x00\x00\x00\x01\x00\x00\x00" + "SERIAL-48151623"
	where := tiff[0x38 : 0x38+24]
	var plain bytes.Buffer
	pic := image.NewRGBA(image.Rect(0, 0, 700, 500))
	draw.Draw(pic, pic.Rect, image.NewUniform(color.RGBA{90, 120, 60, 255}), image.Point{}, draw.Src)
	require.NoError(t, jpeg.Encode(&plain, pic, nil))
	segment := func(mark byte, body string) string {
		n := len(body) + 2
		return string([]byte{0xff, mark, byte(n >> 8), byte(n)}) + body
	}
	file := "\xff\xd8" + segment(0xe1, "Exif\x00\x00"+tiff) + segment(0xe1, "http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta>SECRET-XMP</x:xmpmeta>") +
		segment(0xfe, "SECRET-COMMENT") + plain.String()[2:]
	secrets := []string{"Exif", where, "SERIAL-48151623", "SECRET-XMP", "SECRET-COMMENT"}
	for _, s := range secrets {
		require.Contains(t, file, s, "the input holds what is sought")
	}

	in := report.RefusedInput("Shed", &reading.Refusal{Code: reading.NoJar, Text: "no jar was found", Remedy: "show the whole jar"},
		[]jar.File{{Name: "a.jpg", Data: func() ([]byte, error) { return []byte(file), nil }}}, report.Options{})
	text := page(t, in)
	got := pictures(t, text)
	require.Len(t, got, 1)
	for _, s := range secrets {
		assert.NotContains(t, string(got[0]), s)
		lacks(t, text, s)
		lacks(t, text, base64.StdEncoding.EncodeToString([]byte(s))[:8])
	}
	for at := 2; at+4 < len(got[0]) && got[0][at+1] != 0xda; at += 2 + int(got[0][at+2])<<8 + int(got[0][at+3]) {
		mark := got[0][at+1] // ITU-T T.81, table B.1
		assert.Contains(t, []byte{0xdb, 0xc0, 0xc4}, mark, "only tables and the frame")
	}
	back, err := jpeg.Decode(bytes.NewReader(got[0]))
	require.NoError(t, err)
	r, g, b, _ := back.At(300, 200).RGBA()
	assert.InDeltaSlice(t, []float64{90, 120, 60}, []float64{float64(r >> 8), float64(g >> 8), float64(b >> 8)}, 4, "the picture itself is there")
}

func TestRefusedReport(t *testing.T) {
	text := page(t, report.RefusedInput("Shed", &reading.Refusal{Code: reading.TooDark, Text: "a.jpg: the picture is too dark", Remedy: "take it again in daylight"},
		[]jar.File{{Name: "a.jpg", Data: func() ([]byte, error) { return nil, assert.AnError }}}, report.Options{}))
	has(t, text, "<p>a.jpg: the picture is too dark.</p>")
	has(t, text, "take it again in daylight.")
	lacks(t, text, "How far to trust it")
	lacks(t, text, "<svg class")
}

// Eight photos as noisy as a camera at night makes them, at working size.
func TestReportStaysUnderTwoMegabytes(t *testing.T) {
	in := inputOf(t, "open-11")
	random := rand.New(rand.NewPCG(3, 4))
	pic := image.NewRGBA(image.Rect(0, 0, 1200, imaging.WorkingSide))
	for i := range pic.Pix {
		pic.Pix[i] = uint8(random.UintN(256))
	}
	r, frame := &in.Result.Reading, imaging.Frame{Floor: imaging.Point{X: 600, Y: 1400}, Water: imaging.Point{X: 600, Y: 300}, HalfWidthFloor: 350, HalfWidthWater: 350}
	photo := r.Photos[0]
	r.Photos, in.Result.Scenes = nil, nil
	for i := range 8 {
		photo.File = fmt.Sprintf("p%d.jpg", i)
		r.Photos = append(r.Photos, photo)
		in.Result.Scenes = append(in.Result.Scenes, jar.Scene{File: photo.File, Picture: pic, Scale: 1, Frame: frame})
	}
	text := page(t, in)
	require.Len(t, pictures(t, text), 8, "each picture once")
	assert.Less(t, len(text), 2_000_000)
	t.Logf("%d bytes", len(text))
}

// A report of the same reading is the same bytes, whoever makes it.
func TestReportIsReproducible(t *testing.T) {
	in := inputOf(t, "open-11")
	assert.Equal(t, page(t, in), page(t, in))
}

// In 10 cm of water at 20 C grains of 50 um are down after 45 s and those of
// 2 um after 7 h 44 min (BS 1377 pipette sheet, formula 3.1); at 310 g/L grains
// sink at 0.50 to 0.56 of their speed (Richardson & Zaki 1954; Brzinski & Durian
// 2018).
func TestReportAgainstPublishedTimes(t *testing.T) {
	in := inputOf(t, "open-11")
	r := &in.Result.Reading
	r.WaterDepthMM, r.TempC = reading.Ptr(100), 20
	r.Photos[0].ElapsedS, r.Photos[1].ElapsedS = 45, 7*3600+44*60
	text := page(t, in)
	matches(t, text, `45 s</th><td class="n">50 µm`)
	matches(t, text, `7 h 44 min</th><td class="n">2\.0 µm`)
	has(t, text, "50 to 56 %")
}

// One inch is 25.4 mm and one foot 0.3048 m, exactly (international yard and
// pound agreement, 1959): 130 mm in a metre are 1.56 in in a foot.
func TestMeaningInInches(t *testing.T) {
	in := inputOf(t, "open-11")
	in.Options.Inches = true
	text := page(t, in)
	matches(t, text, `in each foot of soil</th><td class="n">1\.6 in</td><td>1\.2 to 1\.9 in`)
	has(t, text, "24 in deep (crop), used at 0.20 in a day")
	lacks(t, text, " mm/h")
	give := words.Say("as-it-is", words.Arg{Name: "text", Value: words.Length{MM: 25.4, Decimals: 1, Beside: true}})
	in.Result.Reading.Meaning.Lines[0].Said = &give
	has(t, page(t, in), "1.0 in (25.4 mm).")
	in.Options.Inches = false
	has(t, page(t, in), "25.4 mm.")
}

func TestTrustFollowsTheReading(t *testing.T) {
	first := regexp.MustCompile(`<p class="trust( firm)?"><strong>How far to trust it:</strong> ([^<]*)</p>`)
	trust := func(change func(r *reading.Reading)) (text string, firm bool) {
		in := inputOf(t, "open-11")
		in.Result.Scenes, in.Result.Reading.Hand = nil, nil
		change(&in.Result.Reading)
		m := first.FindStringSubmatch(page(t, in))
		require.Len(t, m, 3)
		assert.Equal(t, 1, strings.Count(m[2], "."), "one sentence: %s", m[2])
		return m[2], m[1] != ""
	}
	for _, c := range []struct {
		change func(r *reading.Reading)
		want   string
		firm   bool
	}{
		{func(r *reading.Reading) { r.Class.Probability = 0.95 }, "The class is very likely right, and each percentage to within about 6 points.", true},
		{func(r *reading.Reading) { r.Class.Probability, r.Fractions.Silt.High = 0.95, 51 }, "The class is very likely right, but a percentage may be off by about 15 points.", true},
		{func(r *reading.Reading) {}, "Good enough to work with: the class is likely right, and a percentage may be off by about 6 points.", true},
		{func(r *reading.Reading) {
			r.Meaning = &reading.Meaning{Lines: []reading.Statement{{Topic: reading.DoubtTopic, Text: "Too uncertain to go by the class."}}}
		},
			"Take it as a first estimate: the class named is the likeliest but others are possible, and a percentage may be off by about 6 points.", false},
		{func(r *reading.Reading) {
			r.Class.Probability, r.Class.Others[0].Probability = 0.5, 0.4
			r.Warnings = []reading.Warning{{Code: "single_photo"}}
		},
			"Take it as a first estimate: the soil is likely one of the two classes named, and a percentage may be off by about 6 points, because one photo alone does not show how fast the soil settled.", false},
		{func(r *reading.Reading) { r.Class.Probability, r.Class.Others[0].Probability = 0.5, 0.4 },
			"Take it as a first estimate: the soil is likely one of the two classes named, and a percentage may be off by about 6 points.", false},
		{func(r *reading.Reading) {
			r.Class.Probability = 0.2
			r.Warnings = []reading.Warning{{Code: reading.OneLayer}}
		},
			"Take it as a rough guide only: several classes fit about as well, and a percentage may be off by about 6 points, because no line within the soil could be seen.", false},
		{func(r *reading.Reading) { r.Class = nil }, "No class is named, and a percentage may be off by about 6 points.", true},
		{func(r *reading.Reading) { r.Class, r.Fractions.Silt.High = nil, 51 }, "No class is named, and a percentage may be off by about 15 points.", false},
		{func(r *reading.Reading) { r.Class.Probability = 0.2 }, "Take it as a rough guide only: several classes fit about as well, and a percentage may be off by about 6 points.", false},
		{func(r *reading.Reading) { r.Hand = handsSample() }, "Hold back for now: your hands and the jar do not agree, so find out which is right before you rely on either.", false},
		{func(r *reading.Reading) { r.Fractions, r.Class = nil, nil },
			"These photos do not tell sand, silt and clay apart: rely on the heights of the layers, and on no percentages.", false},
	} {
		text, firm := trust(c.change)
		assert.Equal(t, c.want, text)
		assert.Equal(t, c.firm, firm, text)
	}
}

// A remedy stands once among what to do, and not beside soil that is to be put down.
func TestThingsToDo(t *testing.T) {
	todo := func(topic, first string) string {
		in := inputOf(t, "open-11")
		in.Result.Scenes, in.Result.Reading.NextPhoto = nil, nil
		in.Result.Reading.Warnings = []reading.Warning{{Code: reading.Short, Text: "x", Remedy: "wait a day"}}
		in.Result.Reading.Meaning = &reading.Meaning{Lines: []reading.Statement{{Topic: topic, Text: first}, {Topic: "watering", Text: "Water it."}}}
		_, list, _ := strings.Cut(page(t, in), `aria-labelledby="todo"`)
		list, _, _ = strings.Cut(list, "</ol>")
		return list
	}
	assert.Equal(t, 3, strings.Count(todo("doubt", "Too unsure."), "<li>"))
	once := todo("doubt", "Too unsure. To be surer: wait a day.")
	assert.Equal(t, 1, strings.Count(strings.ToLower(once), "wait a day"), once)
	down := todo(reading.ContaminationTopic, "Stop here.")
	assert.Equal(t, 1, strings.Count(down, "<li>"), down)
	assert.Contains(t, down, "Stop here.")
}

// What a jar did not give is left out, and nothing breaks.
func TestReportOfLittle(t *testing.T) {
	text := page(t, report.ReportInput{Result: jar.Result{Reading: reading.Reading{TempC: 20, TempFrom: "assumed", Photos: []reading.Photo{{File: "a.jpg", ElapsedS: 60}}}}})
	for _, absent := range []string{`id="hands"`, `id="meaning"`, `id="sizes"`, `id="thickness"`, `id="triangle"`, "<nil>", "NaN", "%!"} {
		lacks(t, text, absent)
	}
	has(t, text, "Sand, silt and clay not told apart")
	has(t, text, "20 °C (assumed)")
}

func TestCSVIsOneRowALine(t *testing.T) {
	r := sample()
	r.Jar, r.Photos[1].File = "=HYPERLINK(\"x\"), \"quoted\"\nand more", "-1+1.jpg"
	r.Photos[1].RowsPx.SandTop = reading.Ptr(1217.25)
	var b bytes.Buffer
	require.NoError(t, report.CSV(&b, r))
	assert.NotRegexp(t, `[^\r]\n[^a]`, strings.ReplaceAll(b.String(), "quoted\"\"\n", ""), "RFC 4180: lines end with CRLF")
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(b.String(), "\ufeff"))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+1+3, "the header, one line in the first photo, three in the second")
	col := map[string]int{}
	for i, name := range rows[0] {
		col[name] = i
	}
	sand := rows[2]
	assert.Equal(t, "sand_top", sand[col["line"]])
	assert.Equal(t, "'=HYPERLINK(\"x\"), \"quoted\"\nand more", sand[col["jar"]], "no formula")
	assert.Equal(t, "'-1+1.jpg", sand[col["photo"]])
	assert.Equal(t, []string{"15.1", "0.2", "", "", "1217.25", "person"}, sand[col["height_mm"]:], "millimetres, no percent, the row, who placed it")
	assert.Equal(t, "177600", sand[col["elapsed_s"]])
}
