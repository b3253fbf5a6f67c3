package batch

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"
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
		return whole, fmt.Errorf("%q is not a part: write K/N, as in 2/8 for the second of eight", s)
	case ni < 1 || ni > maxShards:
		return whole, fmt.Errorf("%q: there can be 1 to %d parts", s, maxShards)
	case ki < 1 || ki > ni:
		return whole, fmt.Errorf("%q: the part is a number from 1 to %d", s, ni)
	case ni == 1:
		return whole, nil
	}
	return Shard{ki, ni}, nil
}

// of gives the jars of the shard. Which it is hangs on the jar's own ID alone,
// not on what else lies in the folder or in what order it is listed.
func (s Shard) of(jars []Jar) (mine []*Jar) {
	for i := range jars {
		if s.Has(jars[i].ID) {
			mine = append(mine, &jars[i])
		}
	}
	return mine
}

// Has says whether the jar of an ID is in the shard.
func (s Shard) Has(id string) bool {
	if s == whole {
		return true
	}
	sum := sha256.Sum256([]byte(id))
	return binary.BigEndian.Uint64(sum[:])%uint64(s.N) == uint64(s.K-1)
}

// String writes it as ParseShard reads it.
func (s Shard) String() string {
	if s == whole {
		return "1/1"
	}
	return fmt.Sprintf("%d/%d", s.K, s.N)
}
