// Package jartest helps tests: it finds the rendered jars, reads their exact
// truth and builds from it what the program would have to find by itself.
package jartest

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"

	"mudline/imaging"
)

// Truth is a rendered jar's truth.json, as far as tests use it.
type Truth struct {
	Dir  string `json:"-"`
	Name string `json:"name"`
	Soil struct {
		SandPct   float64 `json:"sand_pct"`
		SiltPct   float64 `json:"silt_pct"`
		ClayPct   float64 `json:"clay_pct"`
		USDAClass string  `json:"usda_class"`
	} `json:"soil"`
	ThicknessPct struct {
		Sand, Silt, Clay float64
	} `json:"thickness_pct"`
	WaterHeightMM float64 `json:"water_height_mm"`
	TempC         float64 `json:"temp_c"`
	SolidsGL      float64 `json:"solids_g_l"`
	Jar           struct {
		OuterRadiusMM float64 `json:"outer_radius_mm"`
		TotalHeightMM float64 `json:"total_height_mm"`
	} `json:"jar"`
	ShakeTime  string       `json:"shake_time"`
	Difficulty []string     `json:"difficulty"`
	Photos     []TruthPhoto `json:"photos"`
}

// TruthPhoto is what one rendered photo shows. Heights are millimetres above
// the inner floor at the side that faces the camera; nil where there is none.
type TruthPhoto struct {
	File          string  `json:"file"`
	ElapsedS      float64 `json:"t_s"`
	Size          [2]int  `json:"size"`
	FacingHeights struct {
		SandSilt   *float64 `json:"sand_silt_mm"`
		SiltClay   *float64 `json:"silt_clay_mm"`
		DepositTop *float64 `json:"deposit_top_mm"`
	} `json:"facing_heights_mm"`
	Mean struct {
		SandSilt   *float64 `json:"sand_silt"`
		SiltClay   *float64 `json:"silt_clay"`
		DepositTop *float64 `json:"deposit_top"`
		Organic    float64  `json:"organic"`
	} `json:"mean_heights_mm"`
	Suspension struct {
		ZMM     []float64 `json:"z_mm"`
		Opacity []float64 `json:"opacity"`
	} `json:"suspension_opacity"`
	Rows struct {
		Points     map[string]TruthPoint `json:"points"`
		EdgeLeft   [2]float64            `json:"edge_left"`
		EdgeRight  [2]float64            `json:"edge_right"`
		CentreLine [2][2]float64         `json:"centre_line"`
		MMPerPx    float64               `json:"mm_per_px"`
		// SheetCorners are those of an upright sheet behind the jar: top left, top
		// right, bottom right, bottom left; nil without one.
		SheetCorners [][2]float64 `json:"sheet_corners"`
	} `json:"rows"`
	Camera struct {
		F35MM    float64 `json:"f35_mm"`
		PitchDeg float64 `json:"pitch_deg"`
	} `json:"camera"`
}

// TruthPoint is a mark on the front of the inner wall as the photo shows it.
type TruthPoint struct {
	MM  float64 `json:"mm"`
	X   float64 `json:"x"`
	Row float64 `json:"row"`
}

// Frame is the jar frame of the photo by its truth, in full pixels.
func (p TruthPhoto) Frame(waterMM float64) imaging.Frame {
	base, water := p.Rows.Points["inner_base"], p.Rows.Points["water_surface"]
	f := imaging.Frame{Floor: imaging.Point{X: base.X, Y: base.Row}, Water: imaging.Point{X: water.X, Y: water.Row}}
	half := math.Hypot(p.Rows.EdgeRight[0]-p.Rows.EdgeLeft[0], p.Rows.EdgeRight[1]-p.Rows.EdgeLeft[1]) / 2
	long := math.Max(float64(p.Size[0]), float64(p.Size[1]))
	focal := p.Camera.F35MM / 36 * long
	cy := float64(p.Size[1]) / 2
	tan := math.Tan(-p.Camera.PitchDeg * math.Pi / 180)
	horizon := cy - focal*tan
	mid := (base.Row + water.Row) / 2
	slope := -tan / focal // relative change of width per row downward
	f.HalfWidthFloor = half * (1 + slope*(base.Row-mid))
	f.HalfWidthWater = half * (1 + slope*(water.Row-mid))
	f.BowFloor = (base.Row - horizon) * half / focal
	f.BowWater = (water.Row - horizon) * half / focal
	return f
}

// ReadTruth reads DIR/truth.json.
func ReadTruth(dir string) (*Truth, error) {
	b, err := os.ReadFile(filepath.Join(dir, "truth.json"))
	if err != nil {
		return nil, err
	}
	t := &Truth{Dir: dir}
	if err := json.Unmarshal(b, t); err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	return t, nil
}

// ReadTruths reads every jar folder below root, in name order.
func ReadTruths(root string) ([]*Truth, error) {
	dirs, err := filepath.Glob(filepath.Join(root, "*", "truth.json"))
	if err != nil {
		return nil, err
	}
	sort.Strings(dirs)
	var out []*Truth
	for _, d := range dirs {
		t, err := ReadTruth(filepath.Dir(d))
		if err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, nil
}
