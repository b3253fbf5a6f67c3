package jar

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"mudline/internal/record"
	"mudline/layers"
)

// topsAt are photos that show nothing but the top of the deposit.
func topsAt(tops ...[3]float64) (out []*frame) {
	for _, v := range tops {
		f := &frame{elapsed: record.Elapsed{Time: time.Duration(v[0]) * time.Second}}
		f.shown.layers.DepositTop = &layers.Boundary{HeightMM: v[1], SDMM: v[2]}
		out = append(out, f)
	}
	return out
}

// TestADepositSinksByLittle: by the law of Lane & Koelzer (1943) a bed that gains a tenth
// for ten times the time, an hour after the first, is 1 + 0.1 log10(1 + 24) = 1.14 as
// dense after a day.
func TestADepositSinksByLittle(t *testing.T) {
	want, slack := toBeExpected(topsAt([3]float64{60, 5, 0.3}, [3]float64{8500, 16, 0.3}, [3]float64{8500 + 86400, 12, 1.4}, [3]float64{8500 + 90000, 18, 0.4}))
	assert.Zero(t, want[0])
	assert.InDelta(t, 16/1.1398, want[2], 0.01)
	assert.InDelta(t, 0.9, slack[2], 1e-9)
	assert.Greater(t, want[3], 13.9, "a top that is not sure speaks against none")
	assert.Less(t, want[3], 14.1)
}
