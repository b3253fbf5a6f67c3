package spreadsheet_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/internal/spreadsheet"
)

// The signs that begin a formula are those of OWASP's page "CSV Injection":
// = + - @, tab and carriage return, and their full-width forms.
func TestTextIsNoFormula(t *testing.T) {
	for _, s := range []string{"=1+2", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "＝1", "＋1", "－1", "＠x", "\u00a0=1", "=HYPERLINK(\"http://x\")", "-"} {
		assert.Equal(t, "'"+s, spreadsheet.Text(s), "%q", s)
	}
	for _, s := range []string{"", "plot 7", "1+2", "a=b", "'=1", "🌱", "حديقة", "  plot", "a\tb"} {
		assert.Equal(t, s, spreadsheet.Text(s), "%q", s)
	}
}

func TestNumber(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 100: "100", 0.5: "0.5", 33.33333: "33.3333", 1e6: "1000000", 1e-7: "0", -2.5: "-2.5"} {
		assert.Equal(t, want, spreadsheet.Number(v))
	}
}
