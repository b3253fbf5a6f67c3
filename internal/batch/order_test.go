package batch

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"mudline/internal/words"
)

func TestJarsInOrder(t *testing.T) {
	want := []string{"007", "7", "10", "=1/", "Anna/", "bed", "Çağla/", "plot 2/", "Plot-9", "plot_10/", "plot 10/b", "Zoë/", "حديقة"}
	var jars []Jar
	for _, i := range []int{5, 12, 0, 8, 3, 10, 1, 7, 2, 11, 4, 9, 6} {
		jars = append(jars, Jar{ID: want[i]})
	}
	inOrder(jars)
	for i := range want {
		assert.Equal(t, want[i], jars[i].ID)
	}
}

// The order does not hang on that in which a folder was listed.
func TestNaturalIsAnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-3a-c/ é]{0,6}`)
		a, b, c := text.Draw(t, "a"), text.Draw(t, "b"), text.Draw(t, "c")
		if natural(a, b) != -natural(b, a) {
			t.Fatalf("%q %q", a, b)
		}
		if natural(a, b) <= 0 && natural(b, c) <= 0 && natural(a, c) > 0 {
			t.Fatalf("%q %q %q", a, b, c)
		}
	})
}

func TestGather(t *testing.T) {
	x, y, z := words.Say("batch.too-deep"), words.Say("batch.move-up"), words.Say("batch.unsorted")
	assert.Equal(t, []Left{{"a, c", x, y}, {"b", z, y}}, Gather([]Left{{"a", x, y}, {"b", z, y}, {"c", x, y}}))
}
