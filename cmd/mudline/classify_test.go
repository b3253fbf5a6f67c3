package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
)

// classified runs classify --json and reads back what it prints.
func classified(t *testing.T, args ...string) (c classification) {
	t.Helper()
	r := command(t, nil, append([]string{"classify", "--json"}, args...)...)
	require.Equal(t, statusOK, r.status, r.err)
	require.NoError(t, json.Unmarshal([]byte(r.out), &c))
	return c
}

func TestClassifyPublishedSoils(t *testing.T) {
	for _, c := range []struct{ sand, silt, clay, want, source string }{
		{"88", "7", "5", "sand", "Saxton & Rawls 2006 table 3, from memory"},
		{"80", "15", "5", "loamy sand", "same"},
		{"65", "25", "10", "sandy loam", "same"},
		{"40", "40", "20", "loam", "same"},
		{"20", "65", "15", "silt loam", "same"},
		{"10", "85", "5", "silt", "same"},
		{"60", "15", "25", "sandy clay loam", "same"},
		{"30", "35", "35", "clay loam", "same"},
		{"10", "55", "35", "silty clay loam", "same"},
		{"10", "45", "45", "silty clay", "same"},
		{"50", "10", "40", "sandy clay", "same"},
		{"25", "25", "50", "clay", "same"},
		{"29.0", "49.1", "21.9", "loam", "NCSS laboratory, NDSU0667"},
		{"27.2", "47.7", "25.1", "loam", "NDSU0668"},
		{"13.5", "58.6", "27.9", "silty clay loam", "NDSU0669"},
		{"13.2", "58.6", "28.2", "silty clay loam", "NDSU0670"},
		{"48.5", "32.9", "18.6", "loam", "NDSU0671"},
		{"79.1", "10.2", "10.7", "sandy loam", "NDSU0672"},
		{"25.5", "51.7", "22.8", "silt loam", "NCSS pedon 07N0202"},
		{"20", "56", "24", "silt loam", "PMC3990416 table 1"},
		{"23", "54", "23", "silt loam", "PMC3990416 table 1"},
		{"22", "62", "16", "silt loam", "PMC3990416 table 1"},
		{"40", "35", "25", "loam", "agricultural engineering text"},
		{"75", "10", "15", "sandy loam", "triangle practice notes"},
		// Points on the lines, by the convention of Benham, Ahrens & Nettleton.
		{"85", "15", "0", "loamy sand", "edge"}, {"85.5", "14.5", "0", "sand", "edge"}, {"90", "0", "10", "loamy sand", "edge"},
		{"70", "30", "0", "sandy loam", "edge"}, {"52", "41", "7", "loam", "edge"}, {"52.5", "40.5", "7", "sandy loam", "edge"},
		{"43", "50", "7", "silt loam", "edge"}, {"20", "80", "0", "silt", "edge"}, {"8", "80", "12", "silt loam", "edge"},
		{"45", "28", "27", "clay loam", "edge"}, {"45.5", "27.5", "27", "sandy clay loam", "edge"}, {"52", "28", "20", "loam", "edge"},
		{"60", "20", "20", "sandy clay loam", "edge"}, {"60.5", "20", "19.5", "sandy loam", "edge"}, {"20", "53", "27", "silty clay loam", "edge"},
		{"20.5", "52.5", "27", "clay loam", "edge"}, {"20", "40", "40", "silty clay", "edge"}, {"20.5", "39.5", "40", "clay", "edge"},
		{"45", "15", "40", "clay", "edge"}, {"55", "5", "40", "sandy clay", "on a limit that is no border there"},
	} {
		name := c.sand + "/" + c.silt + "/" + c.clay
		sand, silt, clay := []string{"--sand", c.sand}, []string{"--silt", c.silt}, []string{"--clay", c.clay}
		for _, args := range [][]string{append(append(sand, silt...), clay...), append(sand, clay...), append(silt, clay...), append(sand, silt...)} {
			assert.Equal(t, c.want, classified(t, args...).Class.Name, "%s by %s (%s)", name, args, c.source)
		}
		if c.source == "edge" {
			assert.Less(t, classified(t, append(sand, clay...)...).Nearest.Distance, 0.51, name)
		}
	}
}

func TestClassifyJSON(t *testing.T) {
	r := command(t, nil, "classify", "--sand", "40", "--clay", "20", "--json")
	require.Equal(t, statusOK, r.status, r.err)
	assert.True(t, strings.HasPrefix(strings.Join(strings.Fields(r.out), ""), `{"class":{"system":"usda","name":"loam"},"version":1,`), r.out)
	// The way to clay loam is square to the line of 27 % clay: see border_test.go.
	c := classified(t, "--sand", "40", "--clay", "20")
	assert.Equal(t, percentage{40, 40, 20}, c.Fractions)
	assert.Equal(t, neighbour{"clay loam", 6.0622, percentage{-3.5, -3.5, 7}}, *c.Nearest)
	assert.Equal(t, *c.Nearest, c.Neighbours[0])
	assert.Len(t, c.Neighbours, 4)
	assert.Empty(t, c.Note)
}

func TestClassifyText(t *testing.T) {
	r := command(t, nil, "classify", "--sand", "40", "--clay", "20")
	require.Equal(t, statusOK, r.status, r.err)
	for _, want := range []string{"Texture: loam (USDA classes)\nsand 40 %, silt 40 %, clay 20 %\n",
		"Nearest border: 6.1 points. With 7.0 % more clay (3.5 less sand, 3.5 less silt) it would be clay loam.", "silt loam", "sandy clay loam"} {
		assert.Contains(t, r.out, want)
	}
	r = command(t, nil, "classify", "--sand", "46", "--clay", "30")
	assert.Contains(t, r.out, "With 1.0 % less sand (0.5 more silt, 0.5 more clay) it would be clay loam.")
	r = command(t, nil, "classify", "--sand", "45", "--clay", "40")
	assert.Contains(t, r.out, "Texture: clay (USDA classes)")
	assert.Contains(t, r.out, "It lies on the border with clay loam and sandy clay.")
}

// What people type.
func TestClassifyTakesWhatIsTyped(t *testing.T) {
	for _, args := range [][]string{{"--sand", "40%", "--clay", " 20 % "}, {"--sand", "40,0", "--clay", "20,00"}, {"--sand=040", "--clay=20.", "--silt=40"}} {
		if args[1] == "--clay=20." {
			args[1] = "--clay=20.0"
		}
		assert.Equal(t, percentage{40, 40, 20}, classified(t, args...).Fractions, args)
	}
	assert.Equal(t, "heavy clay", classified(t, "--sand", "10", "--clay", "70", "--system", "Canadian").Class.Name)
	c := classified(t, "--sand", "100", "--clay", "0")
	assert.Equal(t, percentage{100, 0, 0}, c.Fractions)
}

// Half a unit of the last digit of each number is put up with, no more.
func TestClassifyRounding(t *testing.T) {
	for _, c := range []struct {
		sand, silt, clay string
		ok               bool
	}{
		{"33", "33", "33", true}, {"33", "34", "34", true}, {"33", "33", "32", false}, {"34", "34", "34", false},
		{"33.3", "33.3", "33.3", true}, {"33.0", "33.0", "33.0", false}, {"33.4", "33.4", "33.4", false},
		{"40.5", "40", "20", true}, {"40.5", "40", "18", false}, {"33.33", "33.33", "33.33", true}, {"33.33", "33.33", "33.3", true},
		{"80.5", "13.2", "15.0", false}, // a laboratory's row, as printed
		{"51", "", "50", true}, {"51.0", "", "50.0", false},
	} {
		_, err := parseSoil(c.sand, c.silt, c.clay)
		assert.Equal(t, c.ok, err == nil, "%v: %v", c, err)
	}
	c := classified(t, "--sand", "40", "--silt", "34", "--clay", "27")
	assert.InDelta(t, 100*27.0/101, c.Fractions.Clay, 1e-4)
	assert.Equal(t, "loam", c.Class.Name)
	assert.Contains(t, c.Note, "rounding of these numbers alone may make it clay loam")
	r := command(t, nil, "classify", "--sand", "40", "--silt", "34", "--clay", "27")
	assert.Contains(t, r.out, "scaled from a sum of 101")
}

// Each system has its own classes and its own limit of silt.
func TestClassifyOtherSystems(t *testing.T) {
	for system, want := range map[string][2]string{
		"international": {"clay loam", "(international classes)\nsand 41 %, silt 39 %, clay 20 %\nThis holds for percentages measured with silt up to 0.02 mm."},
		"uk":            {"clay loam", "silt up to 0.06 mm."},
		"australian":    {"silty loam", "Texture: silty loam (Australian classes)"},
		"german":        {"mittel sandiger Lehm", "(Ls3, moderately sandy loam) (German classes)"},
		"european":      {"medium", "(classes of the European soil map)"},
	} {
		c := classified(t, "--sand", "41", "--clay", "20", "--system", system)
		assert.Equal(t, want[0], c.Class.Name, system)
		require.NotNil(t, c.Nearest)
		r := command(t, nil, "classify", "--sand", "41", "--clay", "20", "--system", system)
		assert.Contains(t, r.out, want[1])
		assert.Contains(t, r.out, "sand 41 %, silt 39 %, clay 20 %")
	}
}

func TestClassifyMistakes(t *testing.T) {
	for _, c := range []struct {
		args string
		want string
	}{
		{"", "two of --sand, --silt and --clay are needed, not 0"},
		{"--sand 40", "are needed, not 1"},
		{"40 40 20", `say which percentage "40" is`},
		{"--sand 40 --clay 120", "--clay: 120 is outside 0 to 100"},
		{"--sand -5 --clay 20", `--sand: "-5" is not a percentage`},
		{"--sand NaN --clay 20", "not a percentage"},
		{"--sand inf --clay 20", "not a percentage"},
		{"--sand 1e1 --clay 20", "not a percentage"},
		{"--sand 0x10 --clay 20", "not a percentage"},
		{"--sand loam --clay 20", "not a percentage"},
		{"--sand 40%% --clay 20", "not a percentage"},
		{"--sand 60 --clay 50", "the two add up to 110, more than 100"},
		{"--sand 80.5 --silt 13.2 --clay 15.0", "add up to 108.7, not to 100; rounding explains at most 0.15"},
		{"--sand 40 --silt 30 --clay 20", "add up to 90"},
		{"--sand 0.4 --clay 0.2", "all 1 or less"}, {"--sand 1 --clay 0", "all 1 or less"},
		{"--sand 0 --silt 0 --clay 0", "add up to 0"}, {"--sand . --clay 20", "not a percentage"}, {"--sand % --clay 20", "not a percentage"},
		{"--sand 0.4 --silt 0.4 --clay 0.2", "all 1 or less"},
		{"--sand 40 --clay 20 --system mars", "use one of usda, canadian"},
	} {
		for _, asJSON := range []string{"", " --json"} {
			r := command(t, nil, append([]string{"classify"}, strings.Fields(c.args+asJSON)...)...)
			assert.Equal(t, statusInput, r.status, c.args)
			assert.Contains(t, r.err, c.want, c.args)
			if asJSON == "" {
				assert.Empty(t, r.out, c.args)
			} else {
				assert.Equal(t, reading.OfInput, failureIn(t, r).Kind, c.args)
			}
			if !strings.Contains(c.args, "system") {
				assert.Contains(t, r.err, "hint: ", c.args)
			}
		}
	}
	assert.Equal(t, percentage{0, 100, 0}, classified(t, "--sand", "0", "--clay", "0").Fractions, "none of two leaves all for the third")
	assert.Equal(t, percentage{0, 0, 100}, classified(t, "--sand", "0.0", "--silt", "0 %").Fractions)
	assert.Equal(t, percentage{0.5, 19.5, 80}, classified(t, "--sand", ".5", "--clay", "80.").Fractions)
	assert.Equal(t, percentage{0.4, 0.4, 99.2}, classified(t, "--sand", "0.4", "--silt", "0.4", "--clay", "99.2").Fractions, "all three settle it")
}

func FuzzParsePercent(f *testing.F) {
	for _, s := range []string{"40", "40,5 %", "-1", "1e3", "100.000000001", "٤٠"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, half, err := parsePercent("sand", s)
		if err != nil {
			return
		}
		assert.True(t, v >= 0 && v <= 100, s)
		assert.True(t, half > 0 && half <= 0.5, s)
		// Written with as many digits it is the same number.
		digits := 0
		for h := half; h < 0.49; h *= 10 {
			digits++
		}
		again, _, err := parsePercent("sand", fmt.Sprintf("%.*f", digits, v))
		require.NoError(t, err, s)
		assert.InDelta(t, v, again, 1e-9, s)
	})
}
