// Package spreadsheet writes the cells of CSV files so that spreadsheets show them as
// they are.
package spreadsheet

import (
	"strconv"
	"strings"
)

// BOM begins a CSV file that a spreadsheet opens by a double click: without it,
// some take UTF-8 for the code page of the machine.
const BOM = "\ufeff"

// Text disarms what a spreadsheet would run as a formula: a text whose first
// sign, blanks aside, is one of = + - @, also in full width, or that begins with
// a tab or line break, gets an apostrophe before it (the defence OWASP describes
// under "CSV injection").
func Text(s string) string {
	first := strings.TrimLeft(s, " \u00a0\ufeff\t\r\n")
	if strings.HasPrefix(s, "\t") || strings.HasPrefix(s, "\r") || strings.HasPrefix(s, "\n") ||
		first != "" && strings.ContainsRune("=+-@＝＋－＠", []rune(first)[0]) {
		return "'" + s
	}
	return s
}

// Number writes up to four decimals, with a point and without an exponent.
func Number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
