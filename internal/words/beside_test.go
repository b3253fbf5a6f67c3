package words_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/words"
)

// An inch is 25.4 mm exactly (international yard and pound agreement, 1959). An inch of
// water is 0.623 gallons a square foot, as irrigation guides have it.
func TestInchesBeside(t *testing.T) {
	in := map[string]*words.Language{}
	for _, tag := range words.Tags() {
		l, err := words.Find(tag)
		require.NoError(t, err)
		in[tag] = l.In(words.Setting{Inches: true})
	}
	bed := func(litres, low, high float64) words.Arg {
		return words.Arg{Name: "text", Value: words.Watering{Litres: litres, Low: low, High: high}}
	}
	for _, c := range []struct {
		tag, want string
		arg       words.Arg
	}{
		{"en", "1.0 in (25.4 mm)", words.Beside("text", 25.4, 0, 1)},
		{"en", "1.0 to 2.0 in (25.4 to 50.8 mm)", words.Beside("text", 25.4, 50.8, 1)},
		{"en", "0.51 in (13 mm)", words.Beside("text", 13, 0, 0)},
		{"en", "0.04 to 0.10 in (1.0 to 2.5 mm)", words.Beside("text", 1, 2.5, 1)},
		{"en", "39 in (1000 mm)", words.Beside("text", 1000, 0, 0)},
		{"en", "62.3 gallons on 10 square feet, or 254 litres on each square metre", bed(254, 0, 0)},
		{"en", "3.2 gallons on 10 square feet (2.5 to 4.2), or 13 litres on each square metre (10 to 17, as the soil may be)", bed(13, 10, 17)},
		{"es", "0,50\u00a0pulg. (12,7\u00a0mm)", words.Beside("text", 12.7, 0, 1)},
		{"es", "3,2 galones en 10 pies cuadrados (2,5 a 4,2), o 13 litros por metro cuadrado (de 10 a 17, según cómo sea el suelo)", bed(13, 10, 17)},
		{"fr", "2,0 à 3,0\u00a0po (50 à 75\u00a0mm)", words.Beside("text", 50, 75, 0)},
		{"fr", "39\u00a0po (1\u202f000\u00a0mm)", words.Beside("text", 1000, 0, 0)},
		{"fr", "3,2 gallons sur 10 pieds carrés, ou 13 litres par mètre carré", bed(13, 0, 0)},
	} {
		assert.Equal(t, c.want, in[c.tag].Text("as-it-is", c.arg), c.tag)
	}
	assert.Equal(t, "13 litres on each square metre", (*words.Language)(nil).Text("as-it-is", bed(13, 0, 0)), "no inches, no gallons")
}
