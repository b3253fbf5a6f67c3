package report

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"
	"strings"

	"mudline/internal/look"
)

//go:embed template/style.css
var baseCSS string

// CSS is the look that all pages share: colours, type, tables, warnings, print.
// A page may add rules of its own behind it.
func CSS() string { return look.CSS() + baseCSS }

// Patterns are those of sand, silt and clay, which a page holds once where its drawings
// paint with them.
func Patterns() template.HTML { return template.HTML(look.SVGPatterns()) }

// Policy is a Content-Security-Policy for a page that loads nothing from
// anywhere: pictures within the page, and only the given style and script texts.
func Policy(style string, scripts ...string) string {
	p := "default-src 'none'; img-src data:; style-src " + hashSource(style)
	if len(scripts) > 0 {
		list := make([]string, len(scripts))
		for i, s := range scripts {
			list[i] = hashSource(s)
		}
		p += "; script-src " + strings.Join(list, " ")
	}
	return p + "; base-uri 'none'; form-action 'none'"
}

// hashSource names a text by its hash (Content Security Policy Level 3).
func hashSource(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
