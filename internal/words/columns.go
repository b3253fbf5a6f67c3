package words

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode/utf8"
)

// Columns writes a table: cells parted by tabs, rows by ends of lines.
type Columns struct {
	to    io.Writer
	width int
	text  bytes.Buffer
}

// gap is what stands between two columns, narrowGap where there is little room.
const gap, narrowGap = 3, 2

// NewColumns is a table of at most width letters a line, as far as its words allow; 0 is as
// wide as it comes. Cells too long for that are broken into lines.
func NewColumns(to io.Writer, width int) *Columns { return &Columns{to: to, width: width} }

// Write takes rows, or parts of them.
func (c *Columns) Write(p []byte) (int, error) { return c.text.Write(p) }

// Flush writes the table.
func (c *Columns) Flush() error {
	var natural bytes.Buffer
	t := tabwriter.NewWriter(&natural, 0, 4, gap, ' ', 0)
	_, _ = t.Write(c.text.Bytes()) // into memory: cannot fail
	_ = t.Flush()
	lines := strings.Split(natural.String(), "\n")
	if c.width <= 0 || widest(lines) <= c.width {
		_, err := c.to.Write(natural.Bytes())
		return err
	}
	var rows [][]string
	for _, line := range strings.Split(strings.TrimSuffix(c.text.String(), "\n"), "\n") {
		rows = append(rows, strings.Split(line, "\t"))
	}
	_, err := io.WriteString(c.to, fitted(rows, c.width))
	return err
}

// fitted lays rows out in columns that together take no more than width.
func fitted(rows [][]string, width int) string {
	var wide []int
	for _, row := range rows {
		for k, cell := range row {
			if k == len(wide) {
				wide = append(wide, 0)
			}
			wide[k] = max(wide[k], utf8.RuneCountInString(cell))
		}
	}
	const least = 4
	for room := width - narrowGap*(len(wide)-1); sum(wide) > room; {
		most := slices.Index(wide, slices.Max(wide))
		if wide[most] <= least {
			break
		}
		wide[most]--
	}
	var b strings.Builder
	for _, row := range rows {
		cells, high := make([][]string, len(row)), 0
		for k, cell := range row {
			cells[k] = broken(cell, wide[k])
			high = max(high, len(cells[k]))
		}
		for i := range high {
			line := ""
			for k := range cells {
				part := ""
				if i < len(cells[k]) {
					part = cells[k][i]
				}
				line += fmt.Sprintf("%-*s", wide[k]+narrowGap, part)
			}
			b.WriteString(strings.TrimRight(line, " ") + "\n")
		}
	}
	return b.String()
}

// broken breaks a cell into lines of at most width letters: between words, and within a
// word, a name of a file say, only where that is longer. What a cell begins with to set it
// in is kept.
func broken(cell string, width int) []string {
	line := cell[:len(cell)-len(strings.TrimLeft(cell, " "))]
	begun := false
	var out []string
	for _, word := range strings.Fields(cell) {
		for n := utf8.RuneCountInString(word); ; n = utf8.RuneCountInString(word) {
			space := 0
			if begun {
				space = 1
			}
			free := width - utf8.RuneCountInString(line) - space
			if n <= free {
				line += strings.Repeat(" ", space) + word
				begun = true
				break
			}
			if n > width && free > width/2 || !begun && free > 0 {
				cut := len(string([]rune(word)[:free]))
				line, word = line+strings.Repeat(" ", space)+word[:cut], word[cut:]
			}
			out, line, begun = append(out, line), "", false
		}
	}
	return append(out, line)
}

func sum(list []int) (n int) {
	for _, v := range list {
		n += v
	}
	return n
}

func widest(lines []string) (n int) {
	for _, l := range lines {
		n = max(n, utf8.RuneCountInString(l))
	}
	return n
}
