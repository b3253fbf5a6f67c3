package report_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/internal/report"
)

func height(v, sd float64) *reading.Height { return &reading.Height{Value: v, SD: sd} }

// sample is a made-up reading with every part of a report in it.
func sample() reading.Reading {
	return reading.Reading{
		Version: 1, Jar: "Plot 7, by the brook", WaterDepthMM: reading.Ptr(131.9), TempC: 8.7, TempFrom: "stated", Engine: "go",
		Stated: []string{"name", "water-depth", "temp"},
		Photos: []reading.Photo{
			{File: "brook_1min.jpg", ElapsedS: 60, ElapsedSDS: 3, ElapsedFrom: "name", Cloud: reading.Ptr(1),
				HeightsMM: &reading.Heights{DepositTop: height(14.8, 0.6)}, Quality: reading.Quality{Sharpness: 1.2, Brightness: 48, BlownOut: 0.01}},
			{File: "brook_2d.jpg", ElapsedS: 177600, ElapsedSDS: 3456, ElapsedFrom: "stated", Cloud: reading.Ptr(0.1), FloatingMM: reading.Ptr(1.5),
				HeightsMM: &reading.Heights{DepositTop: height(24.8, 0.3), SandTop: height(15.1, 0.2), SiltTop: height(20.4, 1.1)}, Stated: []string{"sand-top"}},
		},
		Fractions: &reading.Fractions{Sand: reading.Estimate{Percent: 63, Low: 57, High: 69}, Silt: reading.Estimate{Percent: 27, Low: 21, High: 33},
			Clay: reading.Estimate{Percent: 10, Low: 6, High: 15}},
		ByThickness: &reading.Shares{Sand: reading.Ptr(60.9), Silt: reading.Ptr(21.4), Clay: reading.Ptr(17.7)},
		ByPacking:   &reading.Shares{Sand: reading.Ptr(74.4), Silt: reading.Ptr(18.8), Clay: reading.Ptr(6.8)},
		Why:         "Wet clay lies loosely: its layer takes up 18 % of the thickness but holds about 10 % of the weight.",
		Class: &reading.Class{System: "usda", Name: "sandy loam", Probability: 0.88,
			Others: []reading.OtherClass{{Name: "loam", Probability: 0.09}, {Name: "sandy clay loam", Probability: 0.03}}},
		Causes: []reading.Cause{{Code: "packing", Text: "knowing how tightly the layers are packed would cut the doubt by 30 %", Share: 0.5},
			{Code: "times", Text: "exact times would help a little", Share: 0.004}},
		SizeCurve:  []reading.SizePoint{{SizeUM: 2, Finer: 10, Low: 6, High: 15}, {SizeUM: 50, Finer: 37, Low: 31, High: 43}},
		Suspension: &reading.Estimate{Percent: 2, Low: 0, High: 4},
		SolidsGL:   &reading.Range{Value: 310, Low: 250, High: 370},
		Warnings: []reading.Warning{{Code: "still_cloudy", Text: "the water was still cloudy at the last photo, so part of the clay had not settled",
			Remedy: "take one more photo when the water is clear, in about two days"}},
	}
}

// golden compares with testdata/NAME; MUDLINE_UPDATE=1 rewrites it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if os.Getenv("MUDLINE_UPDATE") != "" {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got))
}

func TestTableGoldens(t *testing.T) {
	bare := sample()
	bare.WaterDepthMM, bare.TempFrom, bare.Fractions, bare.Class, bare.Why, bare.Warnings = nil, "assumed", nil, nil, "", nil
	bare.ByThickness = &reading.Shares{SandAndSilt: reading.Ptr(82.3), Clay: reading.Ptr(17.7)}
	for i := range bare.Photos {
		bare.Photos[i].HeightsPercent, bare.Photos[i].HeightsMM = bare.Photos[i].HeightsMM, nil
	}
	for _, c := range []struct {
		name string
		r    reading.Reading
		o    report.Options
	}{
		{"plain.txt", sample(), report.Options{}},
		{"explain.txt", sample(), report.Options{Explain: true}},
		{"inches.txt", sample(), report.Options{Inches: true, Fahrenheit: true}},
		{"bare.txt", bare, report.Options{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var b bytes.Buffer
			require.NoError(t, report.WriteTable(&b, c.r, c.o))
			golden(t, c.name, b.Bytes())
		})
	}
}

// In 10 cm of water at 20 C grains of 50 um are down after 45 s and those of
// 2 um after 7 h 44 min (BS 1377 pipette sheet, formula 3.1).
func TestExplainAgainstPipetteTimes(t *testing.T) {
	r := reading.Reading{WaterDepthMM: reading.Ptr(100), TempC: 20,
		Photos: []reading.Photo{{File: "a.jpg", ElapsedS: 45}, {File: "b.jpg", ElapsedS: 7*3600 + 44*60}}}
	text := explained(t, r)
	assert.Regexp(t, `a\.jpg +45 s +50 um`, text)
	assert.Regexp(t, `b\.jpg +.+ +2\.0 um`, text)
	assert.NotContains(t, text, "Stokes' law says", "50 um lies in its range")

	r.Photos[0].ElapsedS = 20 // 75 um, beyond the range of ISO 13317
	assert.Contains(t, explained(t, r), "Stokes' law says")

	r.WaterDepthMM = nil
	assert.NotRegexp(t, `a\.jpg +.* um`, explained(t, r), "no fall height, no cut diameter")
}

// At 310 g/L of quartz, 11.7 % by volume, (1-c)^n is 0.56 with n = 4.65 and
// 0.50 with n = 5.6 (Richardson & Zaki 1954; Brzinski & Durian 2018).
func TestExplainHinderedSettling(t *testing.T) {
	assert.Contains(t, explained(t, sample()), "50 to 56 %")
	r := sample()
	r.SolidsGL = nil
	assert.NotContains(t, explained(t, r), "slow each other")
}

func explained(t *testing.T, r reading.Reading) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, report.WriteTable(&b, r, report.Options{Explain: true}))
	return b.String()
}

func TestTableOfNothing(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, report.WriteTable(&b, reading.Reading{}, report.Options{Explain: true}))
	assert.Contains(t, b.String(), "could not be told")
}

func TestTimesGoldens(t *testing.T) {
	day := 24 * time.Hour
	known := report.Times{WaterDepthMM: 130.175, TempC: 20, FillShare: 1.0 / 3,
		Down: []report.Down{{What: "sand", Usually: 95 * time.Second, Early: 55 * time.Second, Late: 2 * time.Minute},
			{What: "clay", Usually: 5 * day, Early: 4 * time.Hour, Late: 90 * day}},
		Photos: []time.Duration{90 * time.Second, 4 * time.Hour, 3 * day}, Spread: 5.6, UsualSpread: 8.2,
		Marks: []report.Mark{{Name: "2 hours", Means: "the silt is down", Due: 8 * time.Hour, SmallestUM: 4.12, Off: 17.2, Apart: 21}},
		Soil:  report.Soil{Share: 0.25, DepositMM: 37, Slowing: 0.556}}
	unknown := known
	unknown.DepthAssumed, unknown.TempC, unknown.FillShare, unknown.Marks, unknown.Soil = true, math.NaN(), 0, nil, report.Soil{}
	for _, c := range []struct {
		name  string
		t     report.Times
		start time.Time
		o     report.Options
	}{
		{"times.txt", known, time.Date(2026, 6, 5, 11, 38, 20, 0, time.UTC), report.Options{Inches: true, Fahrenheit: true}},
		{"times-unknown.txt", unknown, time.Time{}, report.Options{}},
	} {
		var b bytes.Buffer
		require.NoError(t, report.WriteTimes(&b, c.t, c.start, c.o))
		golden(t, c.name, b.Bytes())
	}
}

// A German class keeps its name, with its symbol and what it means beside it.
func TestTableGivesGermanClassesInFull(t *testing.T) {
	r := sample()
	r.System, r.Class = "german", &reading.Class{System: "german", Name: "stark lehmiger Sand", Probability: 0.5,
		Others: []reading.OtherClass{{Name: "mittel sandiger Lehm", Probability: 0.4}}}
	var b bytes.Buffer
	require.NoError(t, report.WriteTable(&b, r, report.Options{}))
	text := strings.Join(strings.Fields(b.String()), " ")
	assert.Contains(t, text, "Texture: stark lehmiger Sand (Sl4, very loamy sand) or mittel sandiger Lehm (Ls3, moderately sandy loam) - one of these, 90 in 100 together (German classes)")
}

func TestTableTellsOfTheNextPhoto(t *testing.T) {
	r := sample()
	r.NextPhoto = &reading.NextPhoto{ElapsedS: 28800, WidthPoints: 30, ExpectedPoints: 20, Text: "One more photo would do."}
	var b bytes.Buffer
	require.NoError(t, report.WriteTable(&b, r, report.Options{}))
	assert.Contains(t, b.String(), "\nOne more photo would do.\n")
}
