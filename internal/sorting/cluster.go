package sorting

import (
	"math"
	"slices"
	"sort"
	"time"

	"mudline/internal/words"
)

// cluster is the photos of one jar, and why they were put together.
type cluster struct {
	members []int
	why     words.Message
}

const (
	// gapRatio is how many times longer than the pauses between jars of one
	// round the pauses between rounds are at least.
	gapRatio = 3
	// swapMargin is what two jars lose in likeness at least, as a share, when
	// the photos of one round are exchanged between them.
	swapMargin = 0.12
	// isolation is how many times further away other photos are at least than
	// the photos of one jar from each other. Photos of one rendered jar differed
	// by 7 in the median, and no jar's photo was nearer to another jar's.
	isolation = 1.25
	// oneJar is how far photos of one jar lie apart at most where there is no
	// other jar to compare with.
	oneJar = 10
)

// clusters sorts photos into jars by time and likeness. What neither tells for
// sure is in no cluster: a wrong photo among a jar's would give a wrong reading.
func clusters(shots []Shot) []cluster {
	var use []int
	for i, s := range shots {
		if s.look != nil && !s.Taken.IsZero() {
			use = append(use, i)
		}
	}
	sort.SliceStable(use, func(a, b int) bool { return shots[use[a]].Taken.Before(shots[use[b]].Taken) })
	d := distances(shots, use)
	found := inRounds(shots, use, d)
	sitting := sittings(shots, use)
	if len(found) == 0 {
		found = inUnevenRounds(sitting, d)
		byLooks := slices.DeleteFunc(alike(d), func(c cluster) bool { return mixed(c.members, sitting) })
		if sorted(byLooks) > sorted(found) {
			found = byLooks
		}
	}
	for i := range found {
		for k, m := range found[i].members {
			found[i].members[k] = use[m]
		}
	}
	return found
}

// sorted is how many photos are in a cluster.
func sorted(found []cluster) (n int) {
	for _, c := range found {
		n += len(c.members)
	}
	return n
}

func distances(shots []Shot, use []int) [][]float64 {
	d := make([][]float64, len(use))
	for i := range d {
		d[i] = make([]float64, len(use))
		for j := range i {
			d[i][j] = shots[use[i]].look.apart(shots[use[j]].look)
			d[j][i] = d[i][j]
		}
	}
	return d
}

// inRounds takes the photos for rounds past all jars in one order, where the
// pauses say so, and keeps the jars whose photos could not be exchanged with
// another's without a loss in likeness.
func inRounds(shots []Shot, use []int, d [][]float64) []cluster {
	rounds := roundsOf(shots, use)
	if rounds < 2 {
		return nil
	}
	n := len(use) / rounds
	var found []cluster
	for i := range n {
		sure := true
		for j := range n {
			for r := 1; r < rounds && i != j; r++ {
				a, b, c, e := (r-1)*n+i, r*n+i, (r-1)*n+j, r*n+j
				kept, swapped := d[a][b]+d[c][e], d[a][e]+d[c][b]
				sure = sure && kept < (1-swapMargin)*swapped
			}
		}
		if sure {
			c := cluster{why: ByRounds}
			for r := range rounds {
				c.members = append(c.members, r*n+i)
			}
			found = append(found, c)
		}
	}
	return found
}

// roundsOf is in how many rounds of equally many photos, two at least, the
// photos were taken; 0 where the pauses show none.
func roundsOf(shots []Shot, use []int) int {
	var gaps []time.Duration
	for k := 1; k < len(use); k++ {
		gaps = append(gaps, shots[use[k]].Taken.Sub(shots[use[k-1]].Taken))
	}
	long := slices.Clone(gaps)
	slices.Sort(long)
	slices.Reverse(long)
	for k := 1; k < len(long); k++ { // k pauses between rounds
		if rounds := k + 1; long[k-1] > gapRatio*long[k] && len(use)%rounds == 0 && len(use)/rounds > 1 &&
			evenly(gaps, long[k], len(use)/rounds) {
			return rounds
		}
	}
	return 0
}

// evenly says whether exactly every n-th gap is longer than short.
func evenly(gaps []time.Duration, short time.Duration, n int) bool {
	for k, g := range gaps {
		if (g > short) != ((k+1)%n == 0) {
			return false
		}
	}
	return true
}

// pause is how long nobody takes a photo between two sittings.
const pause = 30 * time.Minute

// sittings numbers the stretches of time in which the photos were taken.
func sittings(shots []Shot, use []int) []int {
	number := make([]int, len(use))
	for k := 1; k < len(use); k++ {
		number[k] = number[k-1]
		if shots[use[k]].Taken.Sub(shots[use[k-1]].Taken) > pause {
			number[k]++
		}
	}
	return number
}

// mixed says whether the photos may be of several jars taken in one sitting: two
// of them come from one in which others were taken too, or they are a whole
// sitting among others, or there are several in each of two sittings, as where all
// jars are unlike a stray photo. Jars of like soil look more alike in one round than
// one of them does in two.
func mixed(members, sitting []int) bool {
	mine, all := map[int]int{}, map[int]int{}
	for _, n := range sitting {
		all[n]++
	}
	for _, m := range members {
		mine[sitting[m]]++
	}
	if len(mine) == 1 && len(members) < len(sitting) {
		return true
	}
	several := 0
	for n, k := range mine {
		if k > 1 && all[n] > k {
			return true
		}
		if k > 1 {
			several++
		}
	}
	return several > 1 && len(members) < len(sitting)
}

// branch is a group of photos in the tree of single linkage: within it every
// photo has another one not further away than inner; the rest is outer away.
type branch struct {
	members      []int
	inner, outer float64
}

func (b *branch) isolation() float64 { return b.outer / math.Max(b.inner, 0.5) }

// alike groups photos by likeness alone: those groups of two or more photos
// that are well apart from all others.
func alike(d [][]float64) []cluster {
	tree := linkage(d)
	if len(tree) == 0 {
		return nil
	}
	sort.SliceStable(tree, func(a, b int) bool { return tree[a].isolation() > tree[b].isolation() })
	taken := make([]bool, len(d))
	var found []cluster
	for _, b := range tree {
		if b.isolation() < isolation || slices.ContainsFunc(b.members, func(m int) bool { return taken[m] }) {
			continue
		}
		for _, m := range b.members {
			taken[m] = true
		}
		slices.Sort(b.members)
		found = append(found, cluster{slices.Clone(b.members), ByLooks})
	}
	sort.Slice(found, func(a, b int) bool { return found[a].members[0] < found[b].members[0] })
	return found
}

// linkage builds the tree. The group of all photos is in it only where they are
// alike enough for one jar.
func linkage(d [][]float64) []*branch {
	var parts []*branch
	for i := range d {
		parts = append(parts, &branch{members: []int{i}})
	}
	var tree []*branch
	for len(parts) > 1 {
		bi, bj, nearest := 0, 1, math.Inf(1)
		for i := range parts {
			for j := range i {
				if v := between(parts[i], parts[j], d); v < nearest {
					bi, bj, nearest = j, i, v
				}
			}
		}
		a, b := parts[bi], parts[bj]
		a.outer, b.outer = nearest, nearest
		joined := &branch{append(slices.Clone(a.members), b.members...), nearest, oneJar * isolation}
		parts = append(append(append([]*branch{}, parts[:bi]...), parts[bi+1:bj]...), parts[bj+1:]...)
		parts = append(parts, joined)
		tree = append(tree, joined)
	}
	return tree
}

func between(a, b *branch, d [][]float64) float64 {
	least := math.Inf(1)
	for _, i := range a.members {
		for _, j := range b.members {
			least = math.Min(least, d[i][j])
		}
	}
	return least
}
