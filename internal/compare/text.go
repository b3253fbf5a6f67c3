package compare

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"text/tabwriter"

	"mudline/internal/reading"
)

// inWords is the most jars whose pairs are each described in words; more are
// told apart by letters.
const inWords = 4

// Text writes the comparison for the terminal.
func (c Comparison) Text(w io.Writer) error {
	var b bytes.Buffer
	c.table(&b)
	c.whatDiffers(&b)
	for _, r := range c.Jars {
		if r.Refused != nil {
			fmt.Fprintf(&b, "\nNot read: %s: %s\n  What to do: %s\n", r.Name, r.Refused.Text, r.Refused.Remedy)
		}
	}
	c.warnings(&b)
	_, err := w.Write(b.Bytes())
	return err
}

func (c Comparison) table(b *bytes.Buffer) {
	lettered, watered := c.count(Row.told) > inWords, false
	for _, r := range c.Jars {
		watered = watered || r.AvailableMMPerM != nil
	}
	t := tabwriter.NewWriter(b, 0, 4, 3, ' ', 0)
	fmt.Fprint(t, "jar\tsand %\tsilt %\tclay %\tclass")
	if watered {
		fmt.Fprint(t, "\twater mm/m\tdays")
	}
	fmt.Fprintln(t)
	labels := c.labels()
	for _, r := range c.Jars {
		fmt.Fprint(t, labels[r.Name])
		for k := range fractionNames {
			cell := "-"
			if r.told() {
				e := r.estimate(k)
				cell = interval(reading.Range{Value: e.Percent, Low: e.Low, High: e.High})
			}
			if lettered && r.letters(k) != "" {
				cell += " " + r.letters(k)
			}
			fmt.Fprint(t, "\t"+cell)
		}
		fmt.Fprint(t, "\t"+c.class(r))
		if watered && r.AvailableMMPerM != nil {
			fmt.Fprintf(t, "\t%s\t%s", interval(*r.AvailableMMPerM), interval(*r.Days))
		} else if watered {
			fmt.Fprint(t, "\t-\t-")
		}
		fmt.Fprintln(t)
	}
	t.Flush()
	fmt.Fprintln(b, "In brackets: where it lies 9 times in 10. Behind the class: how often in 100 it would be right.")
	if watered {
		fmt.Fprintln(b, "Water: what plants can take from a metre of soil. Days: between waterings without rain.")
	}
}

func (c Comparison) class(r Row) string {
	switch {
	case r.Refused != nil:
		return "not read, see below"
	case !r.told():
		return "could not be told"
	case r.Class == nil:
		return "none in " + r.System
	}
	name := fmt.Sprintf("%s %s", r.Class.Name, in100(r.Class.Probability))
	if c.mixed() {
		name += " (" + r.Class.System + ")"
	}
	return name
}

// whatDiffers puts the differences into words or, among many jars, explains the letters.
func (c Comparison) whatDiffers(b *bytes.Buffer) {
	n := c.count(Row.told)
	if n < 2 {
		fmt.Fprint(b, "\nAt least two jars with fractions are needed to say what differs.\n")
		return
	}
	fmt.Fprint(b, "\nWhat differs\n")
	if n <= inWords {
		last, labels := "", c.labels()
		for _, d := range c.Differences {
			if pair := labels[d.A] + " and " + labels[d.B]; pair != last {
				fmt.Fprintf(b, "  %s\n", pair)
				last = pair
			}
			fmt.Fprintf(b, "    %s: %s\n", d.Fraction, d.words(labels))
		}
	} else {
		c.summary(b)
	}
	if c.mixed() {
		fmt.Fprint(b, "Sand and silt are compared only between jars whose class systems part them at the same size.\n")
	}
	fmt.Fprint(b, "Points are percent of the soil. Jars differ where the range that holds their difference\n9 times in 10 leaves out zero.")
	if n > 2 {
		fmt.Fprint(b, " Among several jars more is asked (Holm's rule), so that in 9 of\n"+
			"10 such tables no difference in sand is named by chance alone, nor in silt, nor in clay.")
	}
	fmt.Fprintln(b)
}

// summary counts the pairs that differ, for more jars than words can tell.
func (c Comparison) summary(b *bytes.Buffer) {
	lettered := false
	for k, name := range fractionNames {
		differ, pairs := 0, 0
		for _, d := range c.Differences {
			if d.Fraction == name {
				pairs++
				if d.Differs {
					differ++
				}
			}
		}
		fmt.Fprintf(b, "  %s: %d of %d pairs differ beyond the uncertainty\n", name, differ, pairs)
		for _, r := range c.Jars {
			lettered = lettered || r.letters(k) != ""
		}
	}
	if lettered {
		fmt.Fprintln(b, "Jars that share a letter behind the number cannot be told apart; jars that share none differ.")
	} else {
		fmt.Fprintln(b, "Which they are is in the JSON (--json): there are too many groups for letters.")
	}
}

// words says one difference from the side of the jar with more.
func (d Difference) words(labels map[string]string) string {
	name, points, low, high, more := d.A, d.Points, d.Low, d.High, d.ProbabilityMore
	if points < 0 {
		name, points, low, high, more = d.B, -points, -high, -low, 1-more
	}
	name = labels[name]
	if d.Differs {
		return fmt.Sprintf("%s has more, by %.0f points (%.0f to %.0f), %s chances in 100", name, points, low, high, in100(more))
	}
	from := fmt.Sprintf("%.0f less", -low)
	if low >= -0.5 {
		from = fmt.Sprintf("%.0f", math.Abs(low))
	}
	if points < 0.5 {
		return fmt.Sprintf("cannot be told apart; %s may have anything from %s to %.0f points more", name, from, high)
	}
	return fmt.Sprintf("cannot be told apart; %s may have %.0f points more, anything from %s to %.0f more", name, points, from, high)
}

// warnings are given in full for a few jars, a line each for many.
func (c Comparison) warnings(b *bytes.Buffer) {
	many := len(c.Jars) > inWords
	if many {
		fmt.Fprintln(b)
	}
	for _, r := range c.Jars {
		for _, w := range r.Warnings {
			if many {
				fmt.Fprintf(b, "Take care: %s: %s\n", r.Name, w.Text)
				continue
			}
			fmt.Fprintf(b, "\nTake care: %s: %s\n", r.Name, w.Text)
			if w.Remedy != "" {
				fmt.Fprintf(b, "  What would settle it: %s\n", w.Remedy)
			}
		}
	}
}

func (r Row) told() bool { return r.Fractions != nil }

func (c Comparison) count(is func(Row) bool) (n int) {
	for _, r := range c.Jars {
		if is(r) {
			n++
		}
	}
	return n
}

// mixed says that the jars keep to several class systems.
func (c Comparison) mixed() bool {
	system := ""
	for _, r := range c.Jars {
		if r.told() && system != "" && r.System != system {
			return true
		}
		if r.told() {
			system = r.System
		}
	}
	return false
}

func interval(r reading.Range) string {
	return fmt.Sprintf("%.0f (%.0f-%.0f)", r.Value, r.Low, r.High)
}

// in100 writes a probability as so many in 100, never as certainty.
func in100(p float64) string { return fmt.Sprintf("%.0f", min(max(100*p, 1), 99)) }
