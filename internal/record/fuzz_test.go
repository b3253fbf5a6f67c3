package record_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mudline/internal/record"
)

// FuzzStem: the part of a name that names a jar is a part of it, without folders.
func FuzzStem(f *testing.F) {
	for _, name := range []string{"plot-7_1min.jpg", "plot-7_2h (1).jpg", "IMG_0412.jpg", "jar 3 2h.heic", "captura de pantalla 2026-05-03.png", "../../x_2d.jpg", "ẞ_İ_2h.jpg", "20260503_140322.jpg"} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		stem := record.Stem(name)
		require.Contains(t, name, stem)
		require.False(t, strings.ContainsAny(stem, `/\`))
	})
}

// FuzzValues: whatever a person writes for a value is refused or within its bounds.
func FuzzValues(f *testing.F) {
	for _, s := range []string{"130 mm", "5 1/8 in", "68F", "20 °C", "2d 3h", "1h30", "2026-06-05 11:38:20 +02:00", "[1, 2, 300, 400]", "1147 px", "24.2mm", "1e309", "-0", "½ in", "NaN mm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if mm, _, err := record.ParseWaterDepth(s); err == nil {
			require.True(t, mm >= record.MinDepthMM && mm <= record.MaxDepthMM, mm)
		}
		if c, _, err := record.ParseTemp(s); err == nil {
			require.True(t, c >= record.MinTempC && c <= record.MaxTempC, c)
		}
		if e, sd, err := record.ParseElapsed(s); err == nil {
			require.True(t, e > 0 && e <= record.MaxElapsed && sd >= time.Second, e)
		}
		if m, err := record.ParseMoment(s); err == nil {
			again, err := record.ParseMoment(m.String())
			require.NoError(t, err)
			require.WithinDuration(t, m.Time, again.Time, time.Second)
		}
		if b, err := record.ParseBox(s); err == nil {
			require.NotNil(t, b)
		}
		for _, name := range record.LineNames {
			if l, err := record.ParseLine(name, s); err == nil {
				require.NotNil(t, l)
			}
		}
	})
}

// FuzzTree: a jar.yaml that is read goes through a page and comes back as what it was.
func FuzzTree(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte("name: 'a: b'\nphotos: {\"x #y.jpg\": {elapsed: 2h}}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		tree, err := record.ParseTree(record.FileName, data)
		if err != nil {
			return
		}
		was, err := record.Parse(record.FileName, data)
		require.NoError(t, err)
		is, err := tree.Record(record.FileName)
		if err != nil {
			return // deeper than a record goes, or keys without a meaning
		}
		if text, err := tree.YAML(record.FileName); err == nil {
			written, err := record.Parse(record.FileName, text)
			require.NoError(t, err)
			require.Equal(t, written, is, "as the file would be read")
		}
		require.Equal(t, was.Name, is.Name)
		require.Equal(t, was.WaterDepthMM, is.WaterDepthMM)
		require.Equal(t, len(was.Photos), len(is.Photos))
	})
}
