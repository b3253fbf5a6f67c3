package main

import (
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture"
)

// classifyOptions are the options of the classify command, as typed.
type classifyOptions struct {
	sand, silt, clay, system string
	json                     bool
}

func classifyCommand() *cobra.Command {
	var o classifyOptions
	cmd := &cobra.Command{
		Use: "classify",
		Example: `  mudline classify --sand 40 --clay 20
  mudline classify --sand 29.0 --silt 49.1 --clay 21.9 --json`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return badInput(words.Say("command.do-mudline-classify-sand-40"), words.Say("command.say-which-percentage", words.Name("given", args[0])))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return classify(cmd.OutOrStdout(), o, spoken(cmd)) },
	}
	f := cmd.Flags()
	f.StringVar(&o.sand, "sand", "", "")
	f.StringVar(&o.silt, "silt", "", "")
	f.StringVar(&o.clay, "clay", "", "")
	f.StringVar(&o.system, "system", "usda", "")
	f.BoolVar(&o.json, "json", false, "")
	return cmd
}

func classify(w io.Writer, o classifyOptions, l *words.Language) error {
	system, err := texture.ParseSystem(o.system)
	if err != nil {
		return badOption("--system", err)
	}
	soil, err := parseSoil(o.sand, o.silt, o.clay)
	if err != nil {
		return err
	}
	c, err := soil.classified(system)
	if err != nil {
		return err
	}
	if o.json {
		return reading.WriteJSON(w, c)
	}
	_, err = io.WriteString(w, c.text(soil, l))
	return err
}

// typedSoil is a soil as a person typed it.
type typedSoil struct {
	texture.Fractions // scaled to 100
	sum               float64
	// rounding is half a unit of the last digit of the coarsest number.
	rounding float64
}

var percentPattern = regexp.MustCompile(`^([0-9]{0,3})(?:[.,]([0-9]{0,9}))?\s*%?$`)

// parsePercent reads "40", "40 %", "40.5", "40,5" or ".5", with half a unit of its
// last digit.
func parsePercent(name, s string) (v, rounding float64, err error) {
	hint := words.Say("command.do-write-percent")
	m := percentPattern.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil || m[1]+m[2] == "" {
		return 0, 0, badInput(hint, words.Say("command.no-percentage", words.Name("name", name), words.Name("given", s)))
	}
	if v, err = strconv.ParseFloat("0"+m[1]+"."+m[2]+"0", 64); err != nil || v > 100 {
		return 0, 0, badInput(hint, words.Say("command.outside-0-100-percent", words.Name("name", name), words.Name("given", s)))
	}
	return v, math.Pow10(-len(m[2])) / 2, nil
}

// parseSoil reads two or three percentages; empty is one that was not given.
func parseSoil(sand, silt, clay string) (typedSoil, error) {
	var t typedSoil
	values := [3]*float64{&t.Sand, &t.Silt, &t.Clay}
	missing, given, slack, largest := -1, 0, 0.0, 0.0
	for i, s := range []string{sand, silt, clay} {
		if s == "" {
			missing = i
			continue
		}
		v, half, err := parsePercent([]string{"sand", "silt", "clay"}[i], s)
		if err != nil {
			return t, err
		}
		*values[i] = v
		given, slack, largest = given+1, slack+half, max(largest, v)
		t.rounding = max(t.rounding, half)
	}
	if given < 2 {
		return t, badInput(words.Say("command.do-mudline-classify-sand-40-clay"), words.Say("command.two-sand-silt-clay", words.Whole("given", given)))
	}
	t.sum = t.Sum()
	slack += 1e-9 // decimal numbers do not add up exactly
	switch {
	case 0 < largest && largest <= 1 && (given == 2 || math.Abs(t.sum-1) < 0.05):
		// 0.4 and 0.2 would be read as 99.4 % of the third.
		return t, badInput(words.Say("command.do-if-they-shares-multiply"), words.Say("command.percentages-given-all-1"))
	case given == 2 && t.sum <= 100+slack:
		*values[missing] = max(100-t.sum, 0)
		t.sum = t.Sum()
	case given == 2:
		return t, badInput(words.Say("command.do-check-numbers-percent-weight"), words.Say("command.two-add-up-more", trimmed("sum", t.sum)))
	case math.Abs(t.sum-100) > slack:
		return t, badInput(words.Say("command.do-check-them-against-report"), words.Say("command.sand-silt-clay-add", trimmed("sum", t.sum), trimmed("slack", slack)))
	}
	t.Fractions = t.Normalised()
	return t, nil
}

// classification is what classify says: with --json the document it prints.
type classification struct {
	Class struct {
		System string `json:"system"`
		Name   string `json:"name"`
	} `json:"class"`
	Version   int        `json:"version"`
	Fractions percentage `json:"fractions"`
	// Nearest is the first of Neighbours.
	Nearest *neighbour `json:"nearest_border,omitempty"`
	// Neighbours are the classes that share a border with the class, nearest first.
	Neighbours []neighbour `json:"neighbours,omitempty"`
	// Note says why there is no class, or why it is not to be relied on.
	Note string `json:"note,omitempty"`
}

// percentage is percent by weight, or a change of it in points.
type percentage struct {
	Sand float64 `json:"sand"`
	Silt float64 `json:"silt"`
	Clay float64 `json:"clay"`
}

// neighbour is the nearest place on the border to a class.
type neighbour struct {
	Name string `json:"name"`
	// Distance in points of the triangle, 100 from corner to corner.
	Distance float64 `json:"distance_points"`
	// Change is what leads there the shortest way.
	Change percentage `json:"change"`
}

func (t typedSoil) classified(s texture.System) (*classification, error) {
	c := &classification{Version: 1, Fractions: percentage(t.Fractions)}
	c.Class.System = s.String()
	var err error
	if c.Class.Name, err = texture.ClassOf(t.Fractions, s); err != nil {
		return nil, err
	}
	borders, err := texture.Borders(t.Fractions, s)
	if err != nil {
		return nil, err
	}
	for _, b := range borders {
		c.Neighbours = append(c.Neighbours, neighbour{b.Class, b.Distance,
			percentage{b.At.Sand - t.Sand, b.At.Silt - t.Silt, b.At.Clay - t.Clay}})
	}
	c.Nearest = &c.Neighbours[0]
	if c.Nearest.Distance <= t.rounding {
		c.Note = nearBorder(c.Nearest).String()
	}
	return c, nil
}

func (c *classification) text(t typedSoil, l *words.Language) string {
	var b strings.Builder
	line := func(text string) { b.WriteString(text + "\n") }
	system, _ := texture.ParseSystem(c.Class.System) // it came from one
	line(l.Text("command.texture", words.Word("class", "class", c.Class.Name), words.Word("system", "classes", c.Class.System)))
	shares := l.Text("command.shares", trimmed("sand", t.Sand), trimmed("silt", t.Silt), trimmed("clay", t.Clay))
	if math.Abs(t.sum-100) > 1e-9 {
		shares += l.Text("command.scaled-from", trimmed("sum", t.sum))
	}
	line(shares)
	if limit := system.SiltLimitUM(); limit != texture.USDA.SiltLimitUM() {
		line(l.Text("command.holds-for-silt", words.Figures("limit", limit/1000, 2)))
	}
	if n := c.Nearest; n != nil {
		if on := c.onBorder(); len(on) > 0 {
			line("\n" + l.Text("command.on-border", words.Words("classes", "and", "class", on)))
		} else {
			line("\n" + l.Text("command.nearest-border", words.Told("how", n.said())))
		}
		line(l.Text("command.classes-next"))
		widest := 16
		for _, n := range c.Neighbours {
			widest = max(widest, utf8.RuneCountInString(l.Word("class", n.Name)))
		}
		for _, n := range c.Neighbours {
			fmt.Fprintf(&b, "  %-*s %5s\n", widest, l.Word("class", n.Name), l.Number(n.Distance, 1))
		}
		line(l.Text("command.points-are"))
		line(l.Text("command.laboratories-differ"))
	}
	if c.Note != "" {
		line("\n" + l.Say(nearBorder(c.Nearest)))
	}
	return b.String()
}

func nearBorder(n *neighbour) words.Message {
	return words.Say("command.near-border", words.Word("class", "class", n.Name))
}

// onBorder lists the classes on whose border the soil lies.
func (c *classification) onBorder() (names []string) {
	for _, n := range c.Neighbours {
		if n.Distance < 0.05 {
			names = append(names, n.Name)
		}
	}
	return names
}

// said says how the nearest border is reached, the fraction that changes most first.
func (n *neighbour) said() words.Message {
	type part struct {
		name string
		by   float64
	}
	parts := []part{{"sand", n.Change.Sand}, {"silt", n.Change.Silt}, {"clay", n.Change.Clay}}
	first := 0
	for i, p := range parts {
		if math.Abs(p.by) > math.Abs(parts[first].by)+1e-9 {
			first = i
		}
	}
	say := func(p part, more, less string) words.Message {
		key := more
		if p.by < 0 {
			key = less
		}
		return words.Say(key, words.Decimal("v", math.Abs(p.by), 1), words.Word("part", "part", p.name))
	}
	var rest []words.Message
	for i, p := range parts {
		if i != first && math.Abs(p.by) >= 0.05 {
			rest = append(rest, say(p, "command.more-of", "command.less-of"))
		}
	}
	return words.Say("command.border-at", words.Decimal("points", n.Distance, 1), words.Told("most", say(parts[first], "command.more-percent-of", "command.less-percent-of")),
		words.All("rest", "", rest), words.Word("class", "class", n.Name))
}

// trimmed is a percentage with at most two decimals, to fill in.
func trimmed(name string, v float64) words.Arg {
	return words.Figures(name, math.Round(v*100)/100, 6)
}
