package record_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/internal/reading"
	"mudline/internal/record"
)

const whole = `
name: Plot 7, by the brook   # comment
water-depth: 5 1/8 in
temp: 68 F
shaken: 2026-06-05T11:38:20+04:00
system: canadian
box: [10, 20, 300.5, 400]
photos:
  a.jpg: {elapsed: 2d 3h, box: [1, 2, 3, 4]}
  "b c.jpg":
    lines:
      floor: 1285 px
      sand-top: 24.2 mm
      deposit-top: 1147 px
      haze-top: None
`

func TestParseWhole(t *testing.T) {
	r, err := record.Parse("jar.yaml", []byte(whole))
	require.NoError(t, err)
	assert.Equal(t, "Plot 7, by the brook", r.Name)
	assert.InDelta(t, 130.175, r.WaterDepthMM, 1e-9)
	assert.True(t, r.Inches)
	assert.InDelta(t, 20, *r.TempC, 1e-9)
	assert.True(t, r.Fahrenheit)
	assert.Equal(t, "2026-06-05T07:38:20Z", r.Shaken.Time.UTC().Format(time.RFC3339))
	assert.True(t, r.Shaken.HasOffset)
	assert.Equal(t, "canadian", r.System)
	assert.Equal(t, record.Box{X0: 10, Y0: 20, X1: 300.5, Y1: 400}, *r.BoxOf("b c.jpg"))
	assert.Equal(t, record.Box{X0: 1, Y0: 2, X1: 3, Y1: 4}, *r.BoxOf("a.jpg"))
	assert.Equal(t, 51*time.Hour, r.Photos["a.jpg"].Elapsed)
	lines := r.Photos["b c.jpg"].Lines
	assert.Equal(t, record.Line{Value: 1285}, *lines.Floor)
	assert.Equal(t, record.Line{Value: 24.2, MM: true}, *lines.SandTop)
	assert.Equal(t, record.Line{Value: 1147}, *lines.DepositTop)
	assert.Equal(t, record.Line{None: true}, *lines.HazeTop)
	assert.Equal(t, "none", lines.HazeTop.String())
	assert.Nil(t, lines.SiltTop)
	assert.Equal(t, []string{"name", "water-depth", "temp", "shaken", "system", "box", "photos.a.jpg.elapsed", "photos.a.jpg.box",
		"photos.b c.jpg.lines.floor", "photos.b c.jpg.lines.sand-top", "photos.b c.jpg.lines.deposit-top", "photos.b c.jpg.lines.haze-top"}, r.Stated())
}

func TestParseNothingStated(t *testing.T) {
	for _, text := range []string{"", "# only a comment\n", "---\n", "name:\ntemp:\nphotos:\n  a.jpg:\n"} {
		r, err := record.Parse("jar.yaml", []byte(text))
		require.NoError(t, err, "%q", text)
		assert.Empty(t, r.Stated(), "%q", text)
	}
}

func TestParseErrorsNameKeyAndLine(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"name: a\nwater_depth: 130\n", "jar.yaml:2: water_depth: unknown key"},
		{"name: a\nname: b\n", "jar.yaml:2"},
		{"water-depth: 13 mm", "jar.yaml:1: water-depth: water depth 13 mm is outside 20 to 400 mm"},
		{"water-depth: 130 furlongs", `unit "furlongs": write mm, cm or in`},
		{"temp: 300 C", "jar.yaml:1: temp: water temperature 300 C is outside 0 to 45 C"},
		{"temp: 20 K", "write C or F"},
		{"temp: [20]", "jar.yaml:1: temp: expected a single value"},
		{"shaken: yesterday", "is not a date and time"},
		{"system: martian", `unknown class system "martian"`},
		{"box: [1, 2, 3]", "has 3 numbers"},
		{"box: [1, 2, 3, x]", `"x" is not a number`},
		{"box: [9, 2, 3, 4]", "empty or outside"},
		{"box: 4", "expected [x0, y0, x1, y1]"},
		{"photos: 4", "jar.yaml:1: expected keys"},
		{"photos:\n  a.jpg:\n    elapsed: 61d\n", "jar.yaml:3: elapsed: \"61d\": a time since shaking lies above 0 and up to 60 days"},
		{"photos:\n  a.jpg:\n    lines:\n      sand: 4 px\n", "jar.yaml:4: sand: unknown key"},
		{"photos:\n  a.jpg:\n    lines:\n      floor: 4 mm\n", "jar.yaml:4: floor: line floor is a row in pixels"},
		{"photos:\n  a.jpg:\n    lines: {sand-top: 30 mm, silt-top: 20 mm}\n", "line silt-top (20 mm) lies below line sand-top"},
		{"photos:\n  a.jpg:\n    lines: {floor: 100 px, deposit-top: 200 px}\n", "line deposit-top (200 px) lies below line floor"},
		{"photos:\n  a.jpg:\n    lines: {haze-top: 30 mm, deposit-top: 40 mm}\n", "line haze-top (30 mm) lies below line deposit-top"},
		{"photos:\n  a.jpg:\n    lines:\n      sand-top: 1147\n", "jar.yaml:4: sand-top: line sand-top at 1147 has no unit: write px"},
		{"photos:\n  a.jpg:\n    lines:\n      water: none\n", "jar.yaml:4: water: line water cannot be none"},
		{"water-depth: 50\nphotos:\n  a.jpg:\n    lines: {sand-top: 60 mm}\n", "above the water surface (50 mm)"},
		{"- a\n- b\n", "expected keys and values"},
		{"name: a\n---\nname: b\n", "a second document"},
		{"name: \"a\n", "not readable as YAML"},
		{"name: a\n\tb: c\n", "not readable as YAML"},
		{strings.Repeat("#", record.MaxBytes+1), "at most"},
	} {
		_, err := record.Parse("jar.yaml", []byte(c.text))
		require.Error(t, err, "%.60q", c.text)
		assert.Contains(t, err.Error(), c.want)
	}
}

func TestLengthsAndTemperatures(t *testing.T) {
	for in, mm := range map[string]float64{
		"130 mm": 130, "130": 130, "130mm": 130, "13 cm": 130, "5.1 in": 129.54, "5,1in": 129.54,
		"5 1/8 in": 130.175, "5-1/8 inches": 130.175, `5 1/8"`: 130.175, "41/8 in": 130.175, "5⅛ in": 130.175, "5 ⅛ in": 130.175, "4 9⁄8 in": 130.175,
	} {
		got, _, err := record.ParseWaterDepth(in)
		require.NoError(t, err, in)
		assert.InDelta(t, mm, got, 1e-9, in)
	}
	// The fixed points of both scales (BIPM, SI Brochure: t/F = 1.8 t/C + 32).
	for in, c := range map[string]float64{"20": 20, "20 C": 20, "20°C": 20, "68F": 20, "32 F": 0, "113 F": 45, "0": 0} {
		got, _, err := record.ParseTemp(in)
		require.NoError(t, err, in)
		assert.InDelta(t, c, got, 1e-9, in)
	}
	for _, bad := range []string{"", "mm", "-130 mm", "130 130 mm", "1/0 in", "NaN", "Inf mm", "1e9", "401"} {
		_, _, err := record.ParseWaterDepth(bad)
		assert.Error(t, err, bad)
	}
	for _, bad := range []string{"-1 C", "46", "31 F", "", "warm"} {
		_, _, err := record.ParseTemp(bad)
		assert.Error(t, err, bad)
	}
}

func TestParseElapsed(t *testing.T) {
	for in, want := range map[string]time.Duration{
		"61s": 61 * time.Second, "1min": time.Minute, "1 minute": time.Minute, "2h": 2 * time.Hour, "2 hrs": 2 * time.Hour,
		"2d 3h": 51 * time.Hour, "2d3h": 51 * time.Hour, "2 days, 3 hours and 5 min": 51*time.Hour + 5*time.Minute,
		"1h30": 90 * time.Minute, "1.5h": 90 * time.Minute, "1,5 h": 90 * time.Minute, "5m": 5 * time.Minute, "1 week": 168 * time.Hour,
		"60d": record.MaxElapsed,
	} {
		got, _, err := record.ParseElapsed(in)
		require.NoError(t, err, in)
		assert.Equal(t, want, got, in)
	}
	for _, bad := range []string{"", "61", "0s", "-1h", "3h 2d", "2h 2h", "2 fortnights", "60d 1s", "1h x", "1:30"} {
		_, _, err := record.ParseElapsed(bad)
		assert.Error(t, err, bad)
	}
}

func TestElapsedFromName(t *testing.T) {
	h := time.Hour
	for name, want := range map[string]time.Duration{
		"plot7_1min.jpg": time.Minute, "plot7_2h.JPG": 2 * h, "48h.heic": 48 * h, "soil 2d.png": 48 * h, "jar-90s.jpg": 90 * time.Second,
		"open-11_t007200s.jpg": 2 * h, "t000091s.jpg": 91 * time.Second, "1 minute.jpg": time.Minute, "after 2hours.jpg": 2 * h,
		"2days.webp": 48 * h, "x_90sec.jpg": 90 * time.Second, "x_90_sec.jpg": 90 * time.Second, "jar2days.jpg": 48 * h,
		"bed_2d3h.jpg": 51 * h, "bed_2d_3h.jpg": 51 * h, "a_1h30.jpg": 90 * time.Minute, "a_1.5h.jpg": 90 * time.Minute,
		"2026-06-05_2h.jpg": 2 * h, "20260605_1min.jpg": time.Minute, "folder_2h/a_1min.jpg": time.Minute, "Plot2_48H.jpg": 48 * h,
		"IMG_2h.jpg": 2 * h, "DSC_2h.JPG": 2 * h, "PXL_48h.jpg": 48 * h, "img 30min.jpg": 30 * time.Minute, "IMG_20260605_2h.jpg": 2 * h,
		"tarro_2horas.jpg": 2 * h, "tarro 2 días.jpg": 48 * h, "tarro_2_di\u0301as.jpg": 48 * h, "TARRO_2DÍAS.jpg": 48 * h, "1dia.jpg": 24 * h, "1hora.jpg": h,
		"1semana.jpg": 168 * h, "90segundos.jpg": 90 * time.Second, "2minutos.jpg": 2 * time.Minute, "bocal_2heures.jpg": 2 * h, "bocal 2 jours.jpg": 48 * h,
		"bocal_2j.jpg": 48 * h, "1semaine.jpg": 168 * h, "60secondes.jpg": time.Minute, "2j3h.jpg": 51 * h, "1heure.jpg": h,
		"2h (copy 2h).jpg": 2 * h, "jar 30 min.jpeg": 30 * time.Minute, "t=60s.jpg": time.Minute, "1week.jpg": 168 * h,
	} {
		got, _, ok := record.ElapsedFromName(name)
		assert.True(t, ok, name)
		assert.Equal(t, want, got, name)
	}
	for _, name := range []string{
		"IMG_20260605_113820.jpg", "bed2.jpg", "bed2d.jpg", "DSC_0012.jpg", "IMG-20260605-WA0002.jpg", "PXL_20260605_113820123.jpg",
		"20260605T113820.jpg", "2026-06-05 11h38.jpg", "2026-06-05-11h38m20s123.jpg", "screen 2026-06-05 at 11.38.20.png", "day2.jpg",
		"1min_or_2h.jpg", "plot 7 d.jpg", "bed-2-s.jpg", "dsc_0012s.jpg", "0h.jpg", "99d.jpg", "t60.jpg", "12MP.jpg", "h.jpg", "", ".jpg",
		"2h2.jpg", "5mm.jpg", "3dprint.jpg", "día 2.jpg", "jour_2.jpg", "DSC_0002h.jpg", "IMG_1234d.jpg",
	} {
		got, _, ok := record.ElapsedFromName(name)
		assert.False(t, ok, "%s read as %s", name, got)
	}
}

// A refusal says what is so of the name.
func TestNamesWithoutTimeSaySo(t *testing.T) {
	for name, want := range map[string]string{
		"plot.jpg": "its name holds no time since shaking", "1min_or_2h.jpg": "its name gives two times, 1min and 2h",
		"2026-06-05 11h38.jpg": "11h38 in its name, beside a date, may be a time of day", "99d.jpg": "the time in its name cannot be (\"99d\": a time",
		"plot_day2.jpg": "day2 in its name may be counted from 0 or from 1", "IMG_20260605_113820.jpg": "a date in its name, 20260605, is not taken for a time since shaking",
	} {
		_, _, err := (&record.Record{}).Resolve([]record.Taken{{File: name}})
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), name+" does not say when it was taken: "+want)
	}
}

func moment(t *testing.T, s string) record.Moment {
	m, err := record.ParseMoment(s)
	require.NoError(t, err)
	return m
}

func TestResolveOrderOfSources(t *testing.T) {
	r := &record.Record{Shaken: moment(t, "2026-06-05T11:38:20+04:00")}
	r.Edit("c_2h.jpg", func(p *record.Photo) { p.Elapsed = 3 * time.Hour })
	times, warnings, err := r.Resolve([]record.Taken{
		{File: "a.jpg", At: moment(t, "2026-06-05T09:39:27+02:00")},
		{File: "b_2h.jpg", At: moment(t, "2026-06-05T13:42:37+04:00")},
		{File: "c_2h.jpg"},
		{File: "d_4h.jpg", At: moment(t, "2026-06-05T13:52:37+04:00")},
	})
	require.NoError(t, err)
	assert.Equal(t, record.Elapsed{Time: 67 * time.Second, SD: 1500 * time.Millisecond, From: "exif"}, times[0])
	assert.Equal(t, record.Elapsed{Time: 2 * time.Hour, SD: 144 * time.Second, From: "name"}, times[1])
	assert.Equal(t, "stated", times[2].From)
	assert.Equal(t, 3*time.Hour, times[2].Time)
	require.Len(t, warnings, 1)
	assert.Equal(t, reading.TimeConflict, warnings[0].Code)
	assert.Contains(t, warnings[0].Text, "d_4h.jpg: its time is 4 h (in its name), but the camera's clock says 2 h 14 min")
}

// No time below zero is told to anybody.
func TestAClockBeforeTheShaking(t *testing.T) {
	r := &record.Record{Shaken: moment(t, "2026-06-05T11:38:20+04:00")}
	_, warnings, err := r.Resolve([]record.Taken{{File: "e_8h.jpg", At: moment(t, "2026-06-05T10:39:14+04:00")}})
	require.NoError(t, err)
	require.Len(t, warnings, 1)
	assert.Contains(t, warnings[0].Text, "by the camera's clock it was taken 59 min 6 s before the jar was set down")
}

func TestResolveOffsets(t *testing.T) {
	cases := []struct {
		name, shaken, taken string
		want                time.Duration
		assumed             bool
	}{
		{"both with offset", "2026-03-29T00:30:00+00:00", "2026-03-29T03:30:00+01:00", 2 * time.Hour, false},
		{"both local", "2026-06-05 11:38:00", "2026-06-05 13:38:00", 2 * time.Hour, false},
		{"only the camera", "2026-06-05 11:38:00", "2026-06-05T13:38:00+04:00", 2 * time.Hour, true},
		{"only the person", "2026-06-05T11:38:00+04:00", "2026-06-05 13:38:00", 2 * time.Hour, true},
		{"to the minute", "2026-06-05 11:38", "2026-06-05 13:38:30", 2 * time.Hour, false},
		{"the same minute", "2026-06-05 11:38", "2026-06-05 11:38:50", 20 * time.Second, false},
	}
	for _, c := range cases {
		r := &record.Record{Shaken: moment(t, c.shaken)}
		times, warnings, err := r.Resolve([]record.Taken{{File: "a.jpg", At: moment(t, c.taken)}})
		require.NoError(t, err, c.name)
		assert.Equal(t, c.want, times[0].Time, c.name)
		assert.Equal(t, c.assumed, len(warnings) == 1 && warnings[0].Code == "clock_zone_assumed", c.name)
	}
}

func TestResolveRefusals(t *testing.T) {
	shaken := moment(t, "2026-06-05 11:38:00")
	cases := []struct {
		name   string
		code   reading.RefusalCode
		record record.Record
		photos []record.Taken
	}{
		{"no time at all", reading.NoTime, record.Record{}, []record.Taken{{File: "a.jpg"}}},
		{"camera time, shaking not stated", reading.NoTime, record.Record{}, []record.Taken{{File: "a.jpg", At: shaken}}},
		{"taken before shaking", reading.TimesBackwards, record.Record{Shaken: shaken}, []record.Taken{{File: "a.jpg", At: moment(t, "2026-06-05 11:00:00")}}},
		{"years later", reading.NoTime, record.Record{Shaken: shaken}, []record.Taken{{File: "a.jpg", At: moment(t, "2028-06-05 11:00:00")}}},
		{"two of one time", reading.SameTime, record.Record{}, []record.Taken{{File: "a_2h.jpg"}, {File: "b_1min.jpg"}, {File: "c_120min.jpg"}}},
		{"names against the camera", reading.TimesBackwards, record.Record{}, []record.Taken{
			{File: "a_1min.jpg", At: moment(t, "2026-06-07 11:39:00")}, {File: "b_2d.jpg", At: moment(t, "2026-06-05 11:39:00")}}},
	}
	for _, c := range cases {
		_, _, err := c.record.Resolve(c.photos)
		var refusal *reading.Refusal
		require.ErrorAs(t, err, &refusal, c.name)
		assert.Equal(t, c.code, refusal.Code, c.name)
		assert.NotEmpty(t, refusal.Remedy, c.name)
	}
}

func TestStarterStatesOnlyTheName(t *testing.T) {
	for _, name := range []string{"Plot 7", `a "b": #c \ {`, "", "null", "日本"} {
		r, err := record.Parse("jar.yaml", []byte(record.Starter(nil, name, "a.jpg")))
		require.NoError(t, err)
		assert.Equal(t, name, r.Name)
	}
}

// Every line the starter offers must be accepted once its # is removed.
func TestStarterOffersOnlyValidLines(t *testing.T) {
	var lines []string
	seen := map[string]bool{}
	for _, line := range strings.Split(record.Starter(nil, "a", "a.jpg"), "\n") {
		body, ok := strings.CutPrefix(line, "# ")
		k, _, isKey := strings.Cut(body, ":")
		if !ok || !isKey || strings.ContainsAny(strings.TrimSpace(k), " ,.()") && !strings.Contains(k, ".jpg") || seen[k] {
			continue
		}
		if !strings.HasPrefix(k, " ") && strings.ToLower(k) != k {
			continue
		}
		seen[k] = true
		lines = append(lines, body)
	}
	r, err := record.Parse("jar.yaml", []byte(strings.Join(lines, "\n")))
	require.NoError(t, err, strings.Join(lines, "\n"))
	assert.Contains(t, r.Photos, "a.jpg")
	assert.Equal(t, []float64{30, 31.75}, r.Hand.RibbonsMM)
	assert.Len(t, r.Stated(), 37, strings.Join(lines, "\n"))
}

func TestWriteStarterNeverOverwrites(t *testing.T) {
	dir := t.TempDir()
	path, err := record.WriteStarter(nil, dir, "a", "")
	require.NoError(t, err)
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	_, err = record.WriteStarter(nil, dir, "b", "")
	require.ErrorIs(t, err, record.ErrExists)
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	_, err = record.WriteStarter(nil, filepath.Join(dir, "missing"), "a", "")
	require.Error(t, err)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 1, "no temporary file is left")
}

func TestFormatElapsed(t *testing.T) {
	for s, want := range map[int]string{60: "1 min", 61: "61 s", 99: "99 s", 100: "1 min 40 s", 3600: "1 h", 3599: "59 min 59 s", 7157: "1 h 59 min",
		86400: "1 d", 167137: "1 d 22 h", 86399: "24 h", -30: "-30 s"} {
		assert.Equal(t, want, record.FormatElapsed(time.Duration(s)*time.Second))
	}
}

func TestFormatAndParseElapsedAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.IntRange(1, 60*86400).Draw(t, "seconds")
		text := record.FormatElapsed(time.Duration(s) * time.Second)
		got, _, err := record.ParseElapsed(text)
		require.NoError(t, err, text)
		assert.InDelta(t, s, got.Seconds(), 0.025*float64(s)+0.5, text)
	})
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte("photos: {a: {lines: {floor: 3}}}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := record.Parse("jar.yaml", data)
		if err != nil {
			assert.Contains(t, err.Error(), "jar.yaml")
			return
		}
		if r.WaterDepthMM != 0 {
			assert.True(t, r.WaterDepthMM >= record.MinDepthMM && r.WaterDepthMM <= record.MaxDepthMM)
		}
		if r.TempC != nil {
			assert.True(t, *r.TempC >= record.MinTempC && *r.TempC <= record.MaxTempC)
		}
		for _, p := range r.Photos {
			assert.True(t, p.Elapsed >= 0 && p.Elapsed <= record.MaxElapsed)
		}
	})
}

func FuzzElapsedFromName(f *testing.F) {
	f.Add("plot_2d3h.jpg")
	f.Fuzz(func(t *testing.T, name string) {
		if e, _, ok := record.ElapsedFromName(name); ok {
			assert.True(t, e > 0 && e <= record.MaxElapsed)
		}
	})
}
