package batch

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/gofrs/flock"

	"mudline/internal/words"
)

// lockName is the file by which runs know of each other. It stays in the folder;
// the lock on it goes with the process, even one that is killed.
const lockName = ".batch.lock"

// lock keeps other runs out of a folder: a whole run shares it with nobody, a
// shard with other shards. A file system without locks does without.
func lock(folder string, s Shard) (release func(), err error) {
	all := newLock(folder, lockName)
	if s == whole {
		return hold(folder, all.TryLock, all)
	}
	shared, err := hold(folder, all.TryRLock, all)
	if err != nil {
		return nil, err
	}
	own := newLock(folder, fmt.Sprintf(".shard-%d-of-%d.lock", s.K, s.N))
	mine, err := hold(folder, own.TryLock, own)
	if err != nil {
		shared()
		return nil, err
	}
	return func() { mine(); shared() }, nil
}

func newLock(folder, name string) *flock.Flock {
	return flock.New(filepath.Join(folder, name), flock.SetPermissions(0o644))
}

// ErrBusy says that another run has the folder.
var ErrBusy = errors.New("another batch is writing")

// hold takes a lock if nobody has it.
func hold(folder string, try func() (bool, error), l *flock.Flock) (release func(), err error) {
	got, err := try()
	release = func() { _ = l.Close() } // the process would let go of it anyway
	switch {
	case got || errors.Is(err, errors.ErrUnsupported):
		return release, nil
	case err == nil:
		return nil, words.Say("batch.busy", words.Name("folder", folder), words.Because("why", ErrBusy))
	case errors.Is(err, os.ErrPermission), noRoom(err):
		return nil, &WriteError{folder, err}
	}
	return release, nil // such as a network folder whose server keeps no locks
}
