package desk_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/desk"
)

// plan is what the page asks for a jar of which nothing is known.
func plan(t *testing.T, request string) (p struct {
	TimesS       []float64 `json:"times_s"`
	SoilShare    float64   `json:"soil_share"`
	SoilMM       float64   `json:"soil_mm"`
	WaterDepthMM float64   `json:"water_depth_mm"`
	TempC        *float64  `json:"temp_c"`
}) {
	answer, err := desk.New(imaging.PureGo{}).Ask("times", []byte(request))
	require.NoError(t, err)
	text, err := json.Marshal(answer)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &p))
	return p
}

// The README tells the moments and the amount of soil that the page and mudline times plan.
func TestTheReadmeTellsThePlan(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	readme := strings.Join(strings.Fields(string(text)), " ")
	const minute, hour, day = 60, 3600, 86400
	three, four, five := plan(t, `{"photos":3}`), plan(t, `{"photos":4}`), plan(t, `{"photos":5}`)
	assert.Equal(t, []float64{minute, 2 * hour, 2 * day}, three.TimesS)
	assert.Contains(t, readme, "photograph it three times: after a minute, after two hours and after two days")
	assert.Contains(t, readme, "At least at 1 minute, 2 hours and 2 days.")
	assert.Subset(t, four.TimesS, append(three.TimesS, 20*minute))
	assert.Contains(t, readme, "A fourth is worth most at 20 minutes,")
	assert.Subset(t, five.TimesS, append(four.TimesS, 8*hour))
	assert.Contains(t, readme, "a fifth at 8 hours.")
	assert.Equal(t, 0.2, three.SoilShare)
	assert.Contains(t, readme, "fill in soil to about a fifth of the height that the water will have")
}

// What was stated comes back as numbers, whatever its unit, and so does the soil.
func TestThePlanKnowsWhatWasStated(t *testing.T) {
	p := plan(t, `{"photos":3,"water-depth":"5,2 in","temp":"50 F"}`)
	assert.InDelta(t, 132.08, p.WaterDepthMM, 0.005)
	assert.InDelta(t, 26.4, p.SoilMM, 0.05)
	assert.InDelta(t, 10, *p.TempC, 1e-9)
}
