package page_test

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

// The report saved from the page is in the page's language, in words and numbers.
func TestTheReportIsInThePagesLanguage(t *testing.T) {
	for l, code := range map[string]string{"es": "es-ES", "fr": "fr-FR"} {
		t.Run(l, func(t *testing.T) {
			if l != "es" {
				long(t)
			}
			s := open(t, browsertest.View{Width: 390, Height: 780, Touch: true, Still: true, Language: code})
			require.NoError(t, json.Unmarshal(files(t)["words/"+l+".json"], &s.words))
			s.openJar("plot-07-by-the-brook")
			s.read()
			_, data := s.Download(func() { s.press("result-report") })
			text := string(data)
			assert.Contains(t, text, `<html lang="`+l+`">`)
			assert.Contains(t, strings.ToLower(text), s.words["class.sandy-loam"])
			assert.Regexp(t, regexp.MustCompile(`\d,\d ± \d,\d\x{a0}mm`), text)
			for _, english := range []string{"Error analysis", "How far to trust", "Thickness", "the deposit"} {
				assert.NotContains(t, text, english)
			}
			s.clean()
		})
	}
}
