package words_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/internal/words"
)

// An inch is 25.4 mm exactly (international yard and pound agreement, 1959).
func TestInchesBeside(t *testing.T) {
	var english *words.Language
	for text, want := range map[string]string{
		"25.4 mm":                      "25.4 mm (1.0 in)",
		"25.4 to 50.8 mm of mulch":     "25.4 to 50.8 mm (1.0 to 2.0 in) of mulch",
		"13 mm.":                       "13 mm (0.51 in).",
		"1 to 2.5 mm":                  "1 to 2.5 mm (0.04 to 0.10 in)",
		"1000 mm deep":                 "1000 mm (39 in) deep",
		"75 to 100 mm (3 to 4 inches)": "75 to 100 mm (3 to 4 inches)",
		"300 mm (a foot) deep":         "300 mm (a foot) deep",
		"no length, 2 to 3 days":       "no length, 2 to 3 days",
		"10 mmol":                      "10 mmol",
		// An inch of water is 0.623 gallons a square foot, as irrigation guides have it.
		"254 litres on each square metre":                                     "254 litres on each square metre, or 62.3 gallons on 10 square feet",
		"13 litres on each square metre (10 to 17, as the soil may be). Take": "13 litres on each square metre (10 to 17, as the soil may be), or 3.2 gallons on 10 square feet (2.5 to 4.2). Take",
	} {
		assert.Equal(t, want, english.Beside(text))
	}
	spanish, french := words.New("es", nil, nil, nil), words.New("fr", nil, nil, nil)
	assert.Equal(t, "de 75 a 100 mm (3 a 4 pulgadas), 12,7 mm (0,50 pulg.)", spanish.Beside("de 75 a 100 mm (3 a 4 pulgadas), 12,7 mm"))
	assert.Equal(t, "13 litros por metro cuadrado (de 10 a 17, según cómo sea el suelo), o 3,2 galones en 10 pies cuadrados (2,5 a 4,2). Descuenta",
		spanish.Beside("13 litros por metro cuadrado (de 10 a 17, según cómo sea el suelo). Descuenta"))
	assert.Equal(t, "300 mm (un pied), 50 à 75 mm (2,0 à 3,0 po) de paillis", french.Beside("300 mm (un pied), 50 à 75 mm de paillis"))
	assert.Equal(t, "1\u202f000\u00a0mm (39 po)", french.Beside("1\u202f000\u00a0mm"))
	assert.Equal(t, "13 litres par mètre carré, ou 3,2 gallons sur 10 pieds carrés", french.Beside("13 litres par mètre carré"))
}
