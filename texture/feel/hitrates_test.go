package feel

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/combin"

	"mudline/texture"
)

// hitRates are shares, 0..1, of people who name soils from all over the triangle by
// Thien's table.
type hitRates struct {
	class   float64            // hit the class
	near    float64            // it or a neighbour
	slack   float64            // it, or one whose border is at most 4 points off
	ofClass map[string]float64 // hit the class, of the soils of each class
}

func rates(t *testing.T, hands Hands, people int) hitRates {
	rng := rand.New(rand.NewPCG(1979, 54))
	out, each, soils := hitRates{ofClass: map[string]float64{}}, 1/float64(people), map[string]float64{}
	for range people {
		f := triangle()[rng.IntN(len(triangle()))]
		class, err := texture.ClassOf(f, texture.USDA)
		require.NoError(t, err)
		borders, err := texture.Borders(f, texture.USDA)
		require.NoError(t, err)
		named := byThien(person(hands, f, rng))
		soils[class]++
		i := slices.IndexFunc(borders, func(b texture.Border) bool { return b.Class == named })
		if named == class {
			out.class, out.ofClass[class] = out.class+each, out.ofClass[class]+1
		}
		if named == class || i >= 0 {
			out.near += each
		}
		if named == class || i >= 0 && borders[i].Distance <= 4 {
			out.slack += each
		}
	}
	for class, n := range soils {
		out.ofClass[class] /= n
	}
	return out
}

// What the skills were set to: US soil scientists and seasonal staff hit the class in
// 66 and 38 %, it or a neighbour in 91 and 71 % (SSSA 2017 abstract 48-6; Salley et al.
// 2018, SSSAJ 82:1526). What mix of soils they had is not known; here it is the whole
// triangle, which is why the figures are met to 5 points and no closer.
func TestHitRates(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	for hands, published := range map[Hands][2]float64{Practised: {0.66, 0.91}, Beginner: {0.38, 0.71}} {
		got := rates(t, hands, 12000)
		t.Logf("%s: class %.3f, or a neighbour %.3f", hands, got.class, got.near)
		assert.InDelta(t, published[0], got.class, 0.05, "%s: class", hands)
		assert.InDelta(t, published[1], got.near, 0.05, "%s: class or neighbour", hands)
	}
}

// What others found. Three surveys of practised people hit the class in 66 (the one the
// skill is set by), 50 and 46 %, and with 4 points of slack one of them in 67 %: practised
// hands are taken for as good as the best of them and no better, and for no worse than any
// (so that with the others' hands the program is too sure: DEVELOPERS.md). Students after
// three weeks and at the end of term, 39 and 45 %, and seasonal staff, 38 %, agree:
// beginners lie among them, or below by no more than the mix of soils explains. Sand and
// clay are hit more often than the loams between, and the four classes told are hit in as
// many cases in the mean. Sources: Salley et al. 2018; field calls in Maryland, Foss et al.
// 1975; an abstract from Arizona.
func TestOtherHitRates(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	const mix = 0.05 // as in TestHitRates
	practised, beginner := rates(t, Practised, 12000), rates(t, Beginner, 12000)
	for source, published := range map[string]float64{"US soil scientists": 0.66, "Maryland": 0.50, "Arizona": 0.46} {
		assert.Greater(t, practised.class, published-mix, source)
	}
	assert.Less(t, practised.class, 0.66+mix, "no better than the best")
	assert.Greater(t, practised.slack, 0.67-mix, "Maryland, with 4 points of slack")
	for source, published := range map[string]float64{"seasonal staff": 0.38, "students after three weeks": 0.39} {
		assert.InDelta(t, published, beginner.class, mix, source)
	}
	assert.Less(t, beginner.class, 0.45+mix, "students at the end of term")

	maryland := map[string]float64{"sand": 0.74, "clay": 0.73, "sandy loam": 0.68, "silt loam": 0.63}
	published, ours := 0.0, 0.0
	for class, rate := range maryland {
		published, ours = published+rate/4, ours+practised.ofClass[class]/4
	}
	assert.InDelta(t, published, ours, mix, "the four classes of Maryland: %v", practised.ofClass)
	for _, easy := range []string{"sand", "clay"} {
		for _, hard := range []string{"sandy loam", "silt loam"} {
			assert.Greater(t, practised.ofClass[easy], practised.ofClass[hard], "%s is hit more often than %s", easy, hard)
		}
	}
}

// One pedon of North Carolina in the field and in the laboratory (NCSS pedon 88P0172):
// clay loam called of a loam, loam of a sandy clay loam, and three hits. So few say little:
// five such calls are as probable as the practised people's rates make them.
func TestNorthCarolina(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	hit, near := 0, 0
	for _, c := range [][2]string{{"clay loam", "loam"}, {"clay", "clay"}, {"clay", "clay"}, {"loam", "sandy clay loam"}, {"sandy loam", "sandy loam"}} {
		neighbours, err := texture.Neighbours(c[1], texture.USDA)
		require.NoError(t, err)
		if c[0] == c[1] {
			hit++
		} else if slices.Contains(neighbours, c[0]) {
			near++
		}
	}
	require.Equal(t, 5, hit+near, "a call that is neither the class nor a neighbour")
	r := rates(t, Practised, 4000)
	ways := float64(combin.Binomial(hit+near, hit))
	assert.Greater(t, ways*math.Pow(r.class, float64(hit))*math.Pow(r.near-r.class, float64(near)), 0.1, "the chance of just these, with hits at %.2f and %.2f", r.class, r.near)
}

// Measures other than hits. Correlations with the laboratory are those of the Arizona
// abstract, of sand, clay and silt; the simulated error is the same along every axis, so
// their mean is compared. Registered soil scientists in Indiana scored in the low to middle
// eighties, 100 less the distance in the triangle, over ten samples (Franzmeier & Owens
// 2005). Field estimates of the German inventory, 3896 samples, were off by 3.8 % of the
// sand, 11.5 % of the silt and 15.5 % of the clay, of which 57 to 72 % was the laboratory's
// error and the middle of the class standing for all of it; "relative deviation" is read as
// the mean deviation by the mean. By correlation and score practised people are taken for
// better than those asked there (DEVELOPERS.md), by the inventory for just as good; for
// worse than any survey found them they must not be taken.
func TestOtherMeasuresOfHands(t *testing.T) {
	const within = 0.05
	assert.InDelta(t, (0.85+0.74+0.63)/3, correlation(Beginner), within, "students after three weeks")
	assert.InDelta(t, (0.85+0.79+0.55)/3, correlation(Beginner), within, "students at the end of term")
	assert.InDelta(t, 0.765, correlation(Beginner), within, "students' clay alone, 0.74 and 0.79")
	assert.Greater(t, correlation(Practised), (0.83+0.81+0.72)/3, "professionals")

	distance, deviation := 0.0, 0.0
	for _, f := range triangle() {
		for i, p := range skills[Practised].felt(f) {
			g := triangle()[i]
			distance += p * texture.Distance(f, g) / float64(len(triangle()))
			deviation += p * math.Abs(f.Clay-g.Clay) / float64(len(triangle()))
		}
	}
	assert.Greater(t, 100-distance, 83.0, "Indiana")
	assert.InDelta(t, (0.038+0.115+0.155)/3, deviation/(100.0/3), 0.03, "Germany")
}

// correlation is that of the clay which is felt with the clay that is there; sand
// and silt have the same, as the triangle and the error look alike from each corner.
func correlation(hands Hands) float64 {
	s := skills[hands]
	var n, x, y, xx, yy, xy float64
	for _, f := range triangle() {
		for i, p := range s.felt(f) {
			g := triangle()[i]
			n, x, y = n+p, x+p*f.Clay, y+p*g.Clay
			xx, yy, xy = xx+p*f.Clay*f.Clay, yy+p*g.Clay*g.Clay, xy+p*f.Clay*g.Clay
		}
	}
	return (n*xy - x*y) / math.Sqrt((n*xx-x*x)*(n*yy-y*y))
}
