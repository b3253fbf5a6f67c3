package sorting

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/jartest"
)

var shaken = time.Date(2026, 6, 5, 11, 0, 0, 0, time.UTC)

// shotsOf are three photos of each jar as a camera names them, with times.
func shotsOf(t *testing.T, jars []string, at func(jar, photo int) time.Duration) (shots []Shot) {
	for k, jar := range jars {
		photos := jartest.SmallPhotos()[jar]
		require.GreaterOrEqual(t, len(photos), 3, jar)
		for q, data := range append(append([][]byte{}, photos[:2]...), photos[len(photos)-1]) {
			p, err := imaging.Open(imaging.PureGo{}, jar, data)
			require.NoError(t, err)
			p.Taken = shaken.Add(at(k, q))
			shots = append(shots, ShotOf(fmt.Sprintf("%s.%d", jar, q), p))
		}
	}
	return shots
}

// grouped shows clusters by the photos' names.
func grouped(shots []Shot, found []cluster) (out []string) {
	for _, c := range found {
		var names []string
		for _, m := range c.members {
			names = append(names, shots[m].Path)
		}
		out = append(out, strings.Join(names, " "))
	}
	return out
}

var fiveJars = []string{"open-02", "open-05", "open-08", "open-11", "open-13"}

// rounds is a club that passes all jars at 1 min, 2 h and 2 d, the jars shaken
// one after another.
func rounds(jar, photo int) time.Duration {
	return time.Duration(jar)*100*time.Second + []time.Duration{time.Minute, 2 * time.Hour, 48 * time.Hour}[photo]
}

func TestRoundsInOneOrder(t *testing.T) {
	shots := shotsOf(t, fiveJars, rounds)
	found := clusters(shots)
	var want []string
	for _, jar := range fiveJars {
		want = append(want, fmt.Sprintf("%s.0 %s.1 %s.2", jar, jar, jar))
	}
	assert.Equal(t, want, grouped(shots, found))
	for _, c := range found {
		assert.Equal(t, ByRounds, c.why)
	}

	// One photo is missing and one of something else lies between: the rounds still tell.
	other := shots[0]
	other.Path, other.Taken, other.look = "other", shaken.Add(20*time.Hour), other.look.tinted()
	shots = append(slices.Delete(shots, 1, 2), other)
	found = clusters(shots)
	assert.Equal(t, want[1:], grouped(shots, found))
}

// tinted is the look of something that is unlike all jars.
func (l look) tinted() *look {
	for r := range l {
		for c := range l[r] {
			l[r][c][1] += 60
		}
	}
	return &l
}

// In another order in one round, likeness must not be overruled by the order:
// no photo goes to a wrong jar.
func TestRoundsInAnotherOrder(t *testing.T) {
	shots := shotsOf(t, fiveJars, func(jar, photo int) time.Duration {
		if photo == 1 {
			jar = []int{3, 0, 1, 4, 2}[jar]
		}
		return rounds(jar, photo)
	})
	onlyTrue(t, shots, clusters(shots))
}

// onlyTrue asks that no cluster mixes jars.
func onlyTrue(t *testing.T, shots []Shot, found []cluster) (sorted int) {
	t.Helper()
	for _, c := range found {
		jar, _, _ := strings.Cut(shots[c.members[0]].Path, ".")
		for _, m := range c.members {
			assert.True(t, strings.HasPrefix(shots[m].Path, jar+"."), "%s among those of %s", shots[m].Path, jar)
			sorted++
		}
	}
	return sorted
}

func TestJarsOnDifferentDays(t *testing.T) {
	for _, jars := range [][]string{fiveJars, fiveJars[:2], fiveJars[1:4], fiveJars[3:]} {
		shots := shotsOf(t, jars, func(jar, photo int) time.Duration {
			return time.Duration(jar)*31*time.Hour + []time.Duration{time.Minute, 2 * time.Hour, 48 * time.Hour}[photo]
		})
		assert.Greater(t, 2*onlyTrue(t, shots, clusters(shots)), 3*len(jars), "most photos are sorted")
	}
}

func TestOneJarAlone(t *testing.T) {
	for _, jar := range fiveJars {
		shots := shotsOf(t, []string{jar}, rounds)
		assert.Equal(t, []string{fmt.Sprintf("%s.0 %s.1 %s.2", jar, jar, jar)}, grouped(shots, clusters(shots)))
	}
}

// Jars that look the same in every round cannot be told apart, whatever the
// order says, nor are those of one round one jar: they are left to the person.
func TestJarsThatLookTheSame(t *testing.T) {
	one := shotsOf(t, fiveJars[:1], rounds)
	for _, missed := range []bool{false, true} {
		var shots []Shot
		for k := range 3 {
			for q, s := range one {
				s.Path, s.Taken = fmt.Sprintf("%d.%d", k, q), shaken.Add(rounds(k, q))
				if !missed || k != 1 || q != 1 {
					shots = append(shots, s)
				}
			}
		}
		assert.Empty(t, clusters(shots))
	}
}

func TestNothingToCluster(t *testing.T) {
	assert.Empty(t, clusters(nil))
	assert.Empty(t, clusters(make([]Shot, 3)), "no time, no look")
	assert.Empty(t, clusters(shotsOf(t, fiveJars[:1], rounds)[:1]), "one photo shows no jar")
}
