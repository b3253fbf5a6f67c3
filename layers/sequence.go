package layers

import "math"

// sequence finds the best deposit tops of all photos together, by dynamic programming
// over the photos. A top is judged by a measure: the highest one seen before it, not
// that of its neighbour. So what a deposit may sink does not add up from photo to photo,
// a photo that shows no top interrupts nothing, and a top that does not fit is no measure
// for those after it.
type sequence struct {
	ps []*photo
	// moves[i][m] are photo i's choices, in the order of its tops, where measure m holds
	// before it. Measure 0 is none; the others are all tops of the photos before, in
	// their order.
	moves [][][]move
	// before[i][m] and after[i][m] are the best scores of the photos before photo i and
	// from it on, where measure m holds before it; own[i] are those of its tops alone.
	own, before, after [][]float64
}

// move is what the choice of a top entails: what settling says of it, and the measure
// that holds from then on.
type move struct {
	score   float64
	measure int
}

// measure is a top that later ones are judged by.
type measure struct {
	photo *photo
	top   int
}

func newSequence(ps []*photo) *sequence {
	n := len(ps)
	q := &sequence{ps: ps, moves: make([][][]move, n), own: make([][]float64, n), before: make([][]float64, n+1), after: make([][]float64, n+1)}
	known := make([]measure, 1)
	for i, p := range ps {
		q.own[i], q.before[i], q.after[i] = make([]float64, len(p.tops)), make([]float64, len(known)), make([]float64, len(known))
		q.moves[i] = make([][]move, len(known))
		for m, by := range known {
			row := make([]move, len(p.tops))
			for j, t := range p.tops {
				row[j] = judged(by, m, p, t, len(known)+j)
			}
			q.moves[i][m] = row
		}
		for _, t := range p.tops {
			if t != unseen { // it is the last
				known = append(known, measure{p, t})
			}
		}
	}
	q.before[n], q.after[n] = make([]float64, len(known)), make([]float64, len(known))
	return q
}

// judged is the choice of top t in photo p where measure number m holds; its own number
// is to be next.
func judged(by measure, m int, p *photo, t, next int) move {
	if t == unseen {
		return move{measure: m}
	}
	if by.photo == nil {
		return move{measure: next}
	}
	score, holds := growth(by.photo, p, by.top, t)
	if !holds {
		next = m
	}
	return move{score, next}
}

// tops is the best sequence for one height of the sand. It runs over the photos
// forwards and backwards, so that it also learns how good the best sequence through
// every single line is.
func (q *sequence) tops(sand float64, rival [][]float64) choice {
	for i, p := range q.ps {
		for j, t := range p.tops {
			q.own[i][j] = p.topScore(t, sand)
		}
	}
	q.run()
	prior := grainPrior(q.ps, sand)
	out := choice{sand: sand, top: make([]int, len(q.ps))}
	for i, p := range q.ps {
		best := math.Inf(-1)
		for j, t := range p.tops {
			s := math.Inf(-1)
			for m, row := range q.moves[i] {
				s = max(s, q.before[i][m]+row[j].score+q.after[i+1][row[j].measure])
			}
			s += q.own[i][j] + prior
			rival[i][j] = max(rival[i][j], s)
			if s > best {
				best, out.top[i] = s, t
			}
		}
		out.score = best
	}
	return out
}

// run fills in before and after.
func (q *sequence) run() {
	n := len(q.ps)
	for i := range n + 1 {
		for m := range q.before[i] {
			q.before[i][m], q.after[i][m] = math.Inf(-1), 0
		}
	}
	q.before[0][0] = 0
	for i := range n {
		for m, row := range q.moves[i] {
			for j, v := range row {
				q.before[i+1][v.measure] = max(q.before[i+1][v.measure], q.before[i][m]+q.own[i][j]+v.score)
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		for m, row := range q.moves[i] {
			best := math.Inf(-1)
			for j, v := range row {
				best = max(best, q.own[i][j]+v.score+q.after[i+1][v.measure])
			}
			q.after[i][m] = best
		}
	}
}
