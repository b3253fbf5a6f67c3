package compare

import "strings"

const (
	labelWidth = 32 // letters of a name that the table bears
	leastTail  = 8  // letters that are kept of a bracket at its end
)

// labels are the names of the jars as the text writes them: short, unless two that
// differ would then look alike.
func (c Comparison) labels() map[string]string {
	out, owners := map[string]string{}, map[string]int{}
	for _, r := range c.Jars {
		out[r.Name] = short(r.Name, labelWidth)
		owners[out[r.Name]]++
	}
	for name, label := range out {
		if owners[label] > 1 {
			out[name] = name
		}
	}
	return out
}

// short cuts a name that would push the table off the screen, and marks where. A
// bracket at its end tells jars of one name apart by their folders, so its end is
// kept; elsewhere a bracket stays whole or goes whole.
func short(s string, most int) string {
	if len([]rune(s)) <= most {
		return s
	}
	if i := strings.LastIndex(s, " ("); i > 0 && strings.HasSuffix(s, ")") {
		inner := []rune(s[i+2 : len(s)-1])
		if keep := max(leastTail, most-len([]rune(s[:i]))-4); len(inner) > keep {
			inner = append([]rune("…"), inner[len(inner)-keep:]...)
		}
		tail := " (" + string(inner) + ")"
		return cut(s[:i], most-len([]rune(tail))) + tail
	}
	return cut(s, most)
}

// cut keeps the first of at most so many letters, and leaves no bracket open.
func cut(s string, most int) string {
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	kept := string(r[:most-1])
	if i := strings.LastIndex(kept, "("); i > 0 && strings.LastIndex(kept, ")") < i {
		kept = kept[:i]
	}
	return strings.TrimRight(kept, " ,;:-") + "…"
}
