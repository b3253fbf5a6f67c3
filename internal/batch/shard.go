package batch

import (
	"cmp"
	"container/heap"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"mudline/internal/words"
)

// Shard is the K-th of N parts of a batch, counted from 1; the zero value is the
// whole of it.
type Shard struct{ K, N int }

// whole is all jars.
var whole = Shard{}

// maxShards bounds N: more parts than a scheduler's array has.
const maxShards = 100_000

// ParseShard reads "K/N", 1/1 being the whole.
func ParseShard(s string) (Shard, error) {
	k, n, ok := strings.Cut(s, "/")
	ki, err1 := strconv.Atoi(k)
	ni, err2 := strconv.Atoi(n)
	switch {
	case !ok || err1 != nil || err2 != nil:
		return whole, words.Say("batch.no-part", words.Name("given", s))
	case ni < 1 || ni > maxShards:
		return whole, words.Say("batch.parts-outside", words.Name("given", s), words.Whole("most", maxShards))
	case ki < 1 || ki > ni:
		return whole, words.Say("batch.part-outside", words.Name("given", s), words.Whole("most", ni))
	case ni == 1:
		return whole, nil
	}
	return Shard{ki, ni}, nil
}

// Of gives the jars of the shard, in their order. Jars are dealt out with the most
// photos first, each to the part that has the fewest so far, so that the parts are about
// equal work. Which part a jar is in hangs on the IDs and numbers of photos of all jars
// of the plan, and on nothing else: every machine that sees the same folder finds the same.
func (s Shard) Of(jars []Jar) (mine []*Jar) {
	var part map[string]int
	if s != whole {
		part = deal(jars, s.N)
	}
	for i := range jars {
		if s == whole || part[jars[i].ID] == s.K {
			mine = append(mine, &jars[i])
		}
	}
	return mine
}

// deal gives each jar, by its ID, its part from 1 to n.
func deal(jars []Jar, n int) map[string]int {
	order := make([]*Jar, len(jars))
	for i := range jars {
		order[i] = &jars[i]
	}
	slices.SortFunc(order, func(a, b *Jar) int {
		return cmp.Or(len(b.Photos)-len(a.Photos), strings.Compare(a.ID, b.ID))
	})
	parts := make(loads, n)
	for k := range parts {
		parts[k].part = k + 1
	}
	part := make(map[string]int, len(jars))
	for _, j := range order {
		part[j.ID] = parts[0].part
		parts[0].photos += len(j.Photos)
		parts[0].jars++
		heap.Fix(&parts, 0)
	}
	return part
}

// load is what a part has been dealt so far.
type load struct{ part, photos, jars int }

// loads is a heap with the least loaded part first.
type loads []load

// Len, Less, Swap, Push and Pop are those of heap.Interface.
func (l loads) Len() int { return len(l) }

// Less puts fewer photos first, then fewer jars, then the lower part.
func (l loads) Less(i, j int) bool {
	a, b := l[i], l[j]
	return cmp.Or(a.photos-b.photos, a.jars-b.jars, a.part-b.part) < 0
}

// Swap swaps two parts.
func (l loads) Swap(i, j int) { l[i], l[j] = l[j], l[i] }

// Push and Pop are not called: no part comes or goes.
func (l *loads) Push(any) {}

// Pop is Push's counterpart.
func (l *loads) Pop() any { return nil }

// String writes it as ParseShard reads it.
func (s Shard) String() string {
	if s == whole {
		return "1/1"
	}
	return fmt.Sprintf("%d/%d", s.K, s.N)
}
