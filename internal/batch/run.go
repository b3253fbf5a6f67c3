package batch

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"runtime/debug"
	"sync"
	"syscall"
	"time"

	"golang.org/x/sync/errgroup"
	"golang.org/x/sync/semaphore"

	"mudline/imaging"
	"mudline/internal/files"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// Options are how to read a batch.
type Options struct {
	// Out is the folder for the results; it is made if it is missing.
	Out string
	// Engine is the image engine; nil means imaging.PureGo.
	Engine imaging.Engine
	// Stamp names the program's version and all else the results depend on
	// beside photos and records: another stamp, and every jar is read anew.
	Stamp string
	// Jobs is how many jars are read at a time, 1 or more.
	Jobs int
	// Memory is what the work keeps to, in bytes, MinMemory or more.
	Memory int64
	// Shard is the part of the jars to read; the zero value is all of them.
	Shard Shard
	// Language is that of the index page; nil is English.
	Language *words.Language
	// Recheck compares the content of all photos with what was read, even of
	// those that look untouched.
	Recheck bool
	// Prune removes the results of jars that are in the batch no more.
	Prune bool
	// Analyse reads one jar: jar.Analyse.
	Analyse func(context.Context, []jar.File, record.Record, jar.Options) (*jar.Result, error)
	// Render makes the files that go beside reading.json: annotated photos, the
	// report, a thumbnail called ThumbName.
	Render func(Outcome) ([]files.File, error)
	// Progress, when set, is called as photos are done, never from two
	// goroutines at once.
	Progress func(done, total int)

	write func(folder string, list []files.File) error // files.WriteAll
}

// Outcome is what became of one jar, for rendering.
type Outcome struct {
	Jar *Jar
	// Result is the reading; nil where Refusal says why there is none.
	Result  *jar.Result
	Refusal *reading.Refusal
	// Files read the jar's photos again.
	Files []jar.File
}

// Summary is what a run did.
type Summary struct {
	// Jars is how many there are, in the shard if there is one. Kept are those
	// whose results were there already; Left are those not come to.
	Jars, Kept, Left int
	// Read, Refused and Faults count all jars with results, kept ones too.
	Read, Refused, Faults int
	// Doubtful are those read that want a second look.
	Doubtful int
	// Rows are the jars that want a look: refused ones and faults.
	Rows []Row
	// Gone are results of jars that are in the batch no more, Pruned how many
	// of them were removed. A shard says nothing of them.
	Gone   []Gone
	Pruned int
}

// result is a jar that has results, with the key of what they were made from.
type result struct {
	Row
	key string
}

// runner is a run at work.
type runner struct {
	plan *Plan
	opt  Options

	mu     sync.Mutex
	have   map[string]result // of the jars that have results, by ID
	gone   []Gone
	pruned int
	kept   int
	total  int            // photos to read
	now    map[string]int // photos done, by the jar's ID
	saved  time.Time      // when the tables were last written
	stop   error
}

// saveEvery is how often the tables are written while jars are being read.
const saveEvery = time.Minute

// gcPercent is how much garbage may lie beside what is in use, in percent of it.
const gcPercent = 40

// Run reads the jars of a plan that have no results yet, or other ones than
// their photos and records now give, and writes the tables. A jar that cannot be
// read is a row like any other. The error says that the results cannot be
// written, or is that of ctx; what is finished by then stays finished.
func Run(ctx context.Context, plan *Plan, opt Options) (Summary, error) {
	r := newRunner(plan, opt)
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(r.opt.Memory))
	// Pictures hold no pointers: collecting them early costs next to nothing.
	defer debug.SetGCPercent(debug.SetGCPercent(gcPercent))
	release, err := r.takeOut()
	if err != nil {
		return Summary{}, err
	}
	defer release()
	if plan.grouped != nil {
		plan.grouped.keep(r.opt.Out)
	}
	jars := opt.Shard.Of(plan.Jars)
	if opt.Shard == whole {
		r.gone = plan.Gone(opt.Out)
	}
	if opt.Prune && len(r.gone) > 0 && !r.ours(jars) {
		return Summary{}, words.Say("batch.not-ours", words.Name("folder", opt.Out))
	}
	todo := r.check(ctx, jars)
	r.read(ctx, todo)
	if opt.Prune && r.stop == nil && ctx.Err() == nil {
		r.stop = r.prune()
	}
	err = errors.Join(r.stop, r.save(jars))
	if ctx.Err() != nil {
		err = ctx.Err()
	}
	return r.summary(jars), err
}

func newRunner(plan *Plan, opt Options) *runner {
	r := &runner{plan: plan, opt: opt, have: map[string]result{}, now: map[string]int{}, saved: time.Now()}
	if r.opt.Engine == nil {
		r.opt.Engine = imaging.PureGo{}
	}
	if r.opt.write == nil {
		r.opt.write = files.WriteAll
	}
	r.opt.Jobs, r.opt.Memory = max(opt.Jobs, 1), max(opt.Memory, MinMemory)
	return r
}

// takeOut asks, before hours are spent, that files can be written and that no
// other run writes there, until it is released.
func (r *runner) takeOut() (release func(), err error) {
	out := r.opt.Out
	if within(absolute(r.plan.Root), absolute(out)) {
		return nil, words.Say("batch.out-holds-photos", words.Name("folder", out))
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return nil, &WriteError{out, err}
	}
	release, err = lock(out, r.opt.Shard)
	if err != nil {
		return nil, err
	}
	// Other shards may be trying the same folder.
	probe := fmt.Sprintf(".probe-%d-of-%d", r.opt.Shard.K, r.opt.Shard.N)
	if err := r.opt.write(out, []files.File{{Name: probe, Data: []byte(probe)}}); err != nil {
		release()
		return nil, &WriteError{out, err}
	}
	os.Remove(filepath.Join(out, probe))
	if r.opt.Shard == whole {
		files.Sweep(out)
	}
	return release, nil
}

// WriteError says that results cannot be written.
type WriteError struct {
	Folder string
	Err    error
}

// Error names the folder and what went wrong.
func (e *WriteError) Error() string {
	return words.Of(e).String()
}

// Unwrap gives the message, and the cause.
func (e *WriteError) Unwrap() []error {
	return []error{words.Say("batch.cannot-write", words.Name("folder", e.Folder), words.Told("why", plainly(e.Err))), e.Err}
}

// forAll runs work on n things, as many at a time as there are jobs.
func (r *runner) forAll(ctx context.Context, n int, work func(i int)) {
	var g errgroup.Group
	g.SetLimit(r.opt.Jobs)
	for i := range n {
		if ctx.Err() != nil {
			break
		}
		g.Go(func() error { work(i); return nil })
	}
	_ = g.Wait() // none fails
}

// check finds the jars without results that hold.
func (r *runner) check(ctx context.Context, jars []*Jar) (todo []*Jar) {
	known := make([]*done, len(jars))
	r.forAll(ctx, len(jars), func(i int) { known[i] = r.finished(jars[i]) })
	if ctx.Err() != nil {
		return nil
	}
	for i, j := range jars {
		if known[i] != nil {
			r.have[j.ID] = result{known[i].Row, known[i].Key}
			r.kept++
			continue
		}
		r.total += len(j.Photos)
		todo = append(todo, j)
	}
	return todo
}

// read reads jars, each within its share of the memory.
func (r *runner) read(ctx context.Context, todo []*Jar) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	room := r.opt.Memory - programBytes
	memory := semaphore.NewWeighted(room)
	r.forAll(ctx, len(todo), func(i int) {
		j := todo[i]
		need := min(r.weight(j), room) // a larger one runs alone
		if memory.Acquire(ctx, need) != nil {
			return
		}
		d, err := r.one(ctx, j)
		memory.Release(need)
		r.mu.Lock()
		defer r.mu.Unlock()
		switch {
		case err == nil:
			r.took(j, result{d.Row, d.Key})
		case errors.Is(err, context.Canceled):
		case noRoom(err):
			if r.stop == nil {
				r.stop = &WriteError{r.opt.Out, err}
			}
			cancel()
		default:
			r.took(j, result{Row: rowOf(j, nil, notWritten(path.Join(r.opt.Out, j.Folder), err), StatusFault)})
		}
	})
}

// took notes what became of a jar; mu is held.
func (r *runner) took(j *Jar, res result) {
	r.have[j.ID] = res
	r.progress(j, len(j.Photos))
	if time.Since(r.saved) > saveEvery {
		_ = r.save(r.opt.Shard.Of(r.plan.Jars)) // the save at the end tells
		r.saved = time.Now()
	}
}

func notWritten(folder string, err error) *reading.Refusal {
	return refuse(reading.NotWritten, words.Of(&WriteError{folder, err}), words.Say("batch.clear-the-way"))
}

// noRoom tells what keeps every file from being written.
func noRoom(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EROFS) || errors.Is(err, syscall.Errno(112)) && os.PathSeparator == '\\'
}

// progress counts a jar's photos; mu is held.
func (r *runner) progress(j *Jar, photos int) {
	r.now[j.ID] = photos
	sum := 0
	for _, n := range r.now {
		sum += n
	}
	if r.opt.Progress != nil {
		r.opt.Progress(sum, r.total)
	}
}

func (r *runner) summary(jars []*Jar) Summary {
	s := Summary{Jars: len(jars), Kept: r.kept, Left: len(jars) - len(r.have), Gone: r.gone, Pruned: r.pruned}
	for _, j := range jars {
		if res, ok := r.have[j.ID]; ok {
			s.count(res.Row)
		}
	}
	return s
}

func (s *Summary) count(row Row) {
	switch row.Status {
	case StatusRead:
		s.Read++
		if len(row.Doubts) > 0 {
			s.Doubtful++
		}
		return
	case StatusRefused:
		s.Refused++
	default:
		s.Faults++
	}
	s.Rows = append(s.Rows, row)
}
