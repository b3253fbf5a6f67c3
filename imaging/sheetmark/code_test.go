package sheetmark

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func fieldsOf(v uint64) (f [inner * inner]bool) {
	for i := range f {
		f[i] = v>>(inner*inner-1-i)&1 == 1
	}
	return f
}

// The code of a mark comes back in whatever turn, and no other mark of its sheet, nor
// its mirror image, reads as it.
func TestCodesComeBack(t *testing.T) {
	for _, id := range []Identity{0, 1, 0x9d6ef, Identities - 1} {
		for i := range Marks {
			c := Code{id, Letter, i}
			back, ok := codeOf(c.Fields())
			require.True(t, ok)
			require.Equal(t, c, back)
			f := c.Fields()
			for range 3 {
				f = turned(f)
				if o, ok := codeOf(f); ok {
					assert.NotEqual(t, id, o.Identity)
				}
			}
			if o, ok := codeOf(mirrored(c.Fields())); ok {
				assert.NotEqual(t, id, o.Identity)
			}
		}
	}
}

// Any one to four wrong fields are noticed.
func TestCheck(t *testing.T) {
	w := Code{0x9d6ef, A4, 5}.word()
	const n = inner * inner
	for a := range n {
		for b := a; b < n; b++ {
			for c := b; c < n; c++ {
				for d := c; d < n; d++ {
					wrong := uint64(1)<<a ^ uint64(1)<<b ^ uint64(1)<<c ^ uint64(1)<<d
					if _, ok := codeOf(fieldsOf(w ^ wrong)); ok && wrong != 0 {
						t.Fatalf("fields %d, %d, %d, %d wrong, and not noticed", a, b, c, d)
					}
				}
			}
		}
	}
}

func TestIdentitiesAsText(t *testing.T) {
	for _, id := range []Identity{0, 31, 32, 0x9d6ef, Identities - 1} {
		back, err := ParseIdentity(" " + id.String() + " ")
		require.NoError(t, err)
		assert.Equal(t, id, back)
	}
	same, err := ParseIdentity("k7oi")
	require.NoError(t, err)
	assert.Equal(t, "K701", same.String())
	for _, bad := range []string{"", "K7Q", "K7QFF", "K7Q!", "ÄÄÄÄ", "K7QU"} {
		_, err := ParseIdentity(bad)
		assert.Error(t, err, bad)
	}
}
