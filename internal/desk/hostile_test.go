package desk_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/desk"
)

// A small zip that unpacks to a flood is refused before much of it is in memory, whether
// in one file or in many; one with too many files before any is unpacked.
func TestZipsThatSwell(t *testing.T) {
	swelling := func(n, size int) []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		for i := range n {
			w, err := z.Create(fmt.Sprintf("a_%dh.jpg", i+1))
			require.NoError(t, err)
			_, err = w.Write(make([]byte, size))
			require.NoError(t, err)
		}
		require.NoError(t, z.Close())
		return b.Bytes()
	}
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"one file":   {swelling(1, 40<<20), "the jar file holds more than 16 MB"},
		"many files": {swelling(30, 1<<20), "the jar file holds more than 16 MB"},
		"too many":   {swelling(101, 1), "a jar has at most 100"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := desk.ReadPack(c.data)
		runtime.ReadMemStats(&after)
		assert.ErrorContains(t, err, c.want, name)
		// What was grown into counts too: five times the 20 MB that are let through.
		assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(120<<20), name)
	}
}
