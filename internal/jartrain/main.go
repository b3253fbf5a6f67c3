// Command jartrain fits the weights of package jarnet to rendered jars and to
// ordinary pictures without one.
package main

import (
	"flag"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"time"

	"mudline/imaging/jarnet"
)

func main() {
	jars := flag.String("jars", "testdata/jars", "folders of rendered jars, separated by commas")
	pictures := flag.String("pictures", "", "folders of ordinary pictures without a jar (.jpg; .png for cut-outs), separated by commas")
	textures := flag.String("textures", "", "folder of textures for backgrounds (.jpg)")
	fold := flag.Int("fold", -1, "leave out the jars and pictures of this fold of three, and judge on them; -1 fits on all")
	minutes := flag.Float64("minutes", 20, "how long to fit")
	rate := flag.Float64("rate", 1.2e-3, "rate of the first steps")
	start := flag.String("start", "", "weights to begin with")
	out := flag.String("out", "jarnet.weights", "where to write the weights")
	flag.Parse()
	if err := run(strings.Split(*jars, ","), *pictures, *textures, *fold, *minutes, *rate, *start, *out); err != nil {
		fmt.Fprintln(os.Stderr, "jartrain:", err)
		os.Exit(1)
	}
}

// folds is how many parts jars and pictures are divided into.
const folds = 3

// foldOf gives the part a jar belongs to.
func foldOf(name string) int {
	h := fnv.New32a()
	h.Write([]byte(name))
	return int(h.Sum32()>>3) % folds
}

func run(jars []string, pictures, textures string, fold int, minutes, rate float64, start, out string) error {
	m, held, err := load(jars, pictures, textures, fold)
	if err != nil {
		return err
	}
	fmt.Printf("%d photos of jars, %d pictures without, %d textures\n", len(m.bases), len(m.empties), len(m.textures))
	n := jarnet.New()
	initialise(n)
	if start != "" {
		data, err := os.ReadFile(start)
		if err != nil {
			return err
		}
		if err := n.Unpack(data); err != nil {
			return err
		}
	}
	fit(n, m, minutes, rate, func() {
		if held != nil {
			held.judge(n)
		}
		if err := os.WriteFile(out, n.Pack(), 0o644); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
	})
	return nil
}

// load reads what to fit to, and what to judge on where a fold is left out.
func load(jars []string, pictures, textures string, fold int) (m, held *maker, err error) {
	take := func(in bool) (*maker, error) {
		m := &maker{}
		var err error
		m.bases, err = loadJars(jars, func(name string) bool { return (foldOf(name) == fold) != in })
		if err != nil {
			return nil, err
		}
		m.pictures = loadPictures(strings.Split(pictures, ","), 400, func(i int) bool { return (i%folds == fold) != in })
		m.textures = loadPictures(strings.Split(textures, ","), 400, func(i int) bool { return (i%folds == fold) != in })
		m.empties = emptiesOf(m.pictures, 1)
		return m, nil
	}
	if m, err = take(true); err != nil {
		return nil, nil, err
	}
	if fold >= 0 {
		held, err = take(false)
	}
	return m, held, err
}

// initialise draws weights as He and others (2015) advise for rectifiers.
func initialise(n *jarnet.Net) {
	r := rand.New(rand.NewPCG(7, 7))
	fill := func(w []float32, in int) {
		sd := math.Sqrt(2 / float64(in))
		for i := range w {
			w[i] = float32(sd * r.NormFloat64())
		}
	}
	for _, c := range n.Convs() {
		fill(c.W, c.Taps*c.In)
	}
	fill(n.Hidden.W, n.Hidden.In)
	fill(n.Out.W, 10*n.Out.In)
	fill(n.Heads.W, 10*n.Heads.In)
}

const (
	workers  = 2
	perStep  = 1 // pictures of each worker to a step
	reportAt = 1200
)

// fit moves the weights for some minutes, first at the given rate, less and less later; report is called now and then.
func fit(n *jarnet.Net, m *maker, minutes, rate float64, report func()) {
	opt := newAdam(n)
	m.net = n
	learners := [workers]*learner{newLearner(n), newLearner(n)}
	begin := time.Now()
	var sum, count float64
	for step := 1; ; step++ {
		gone := time.Since(begin).Minutes() / minutes
		if gone >= 1 {
			break
		}
		losses, counts := [workers]float64{}, [workers]float64{}
		var wg sync.WaitGroup
		for k := range workers {
			wg.Go(func() {
				r := rand.New(rand.NewPCG(uint64(step), uint64(k)))
				learners[k].begin()
				for range perStep {
					for _, s := range m.draw(r) {
						losses[k] += learners[k].learn(s)
						counts[k]++
					}
				}
			})
		}
		wg.Wait()
		total := counts[0] + counts[1]
		grads := learners[0].gradients()
		g := grads.Parts()
		for i, p := range learners[1].gradients().Parts() {
			for j, v := range p {
				g[i][j] = (g[i][j] + v) / float32(total)
			}
		}
		sum, count = sum+losses[0]+losses[1], count+total
		warm := math.Min(1, float64(step)/100)
		opt.update(n, grads, warm*rate*(0.02+0.98*(1+math.Cos(math.Pi*gone))/2))
		if step%reportAt == 0 {
			fmt.Printf("%5.1f min, step %d, %.0f samples: loss %.4f\n", time.Since(begin).Minutes(), step, count, sum/count)
			sum, count = 0, 0
			report()
		}
	}
	report()
}
