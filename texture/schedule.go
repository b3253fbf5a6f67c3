package texture

import (
	"fmt"
	"math"
)

// LooseSoilGL is the mass of a litre of dry, crushed soil poured loosely, g
// [common practice].
const LooseSoilGL = 1150.0

// PlanSetup describes a jar about to be shaken. The zero value is a usual jar.
type PlanSetup struct {
	WaterDepthMM float64  // floor to water surface, soil included; 0 means UsualDepthMM
	TempC        *float64 // nil means RoomTempC, not known well
	SoilShare    float64  // of the filled jar that is loose dry soil, 0..0.6; 0 unknown
	SolidsGL     float64  // soil per litre of the column, wins over SoilShare; 0 unknown
	Photos       int      // how many photos to take, 1 to MostMoments; 0 means 3
}

// JarPlan tells when to photograph a jar.
type JarPlan struct {
	SandDownS Estimate // when the last sand grain (50 um) has arrived, over plausible soils
	SiltDownS Estimate // when the last silt grain (2 um) has
	ClayDownS Estimate // when less than a hundredth of the soil is left in the water; capped at MaxElapsedS

	Recipes   []Recipe  // how far the usual times would be off for this jar
	TimesS    []float64 // the moments to photograph it at
	Spread    float64   // expected standard deviation of the fractions with them, points
	SpreadOf3 float64   // the same for 1 minute, 2 hours, 2 days
	Soil      SoilAdvice
}

// Recipe is a usual mark and what it would catch in this jar.
type Recipe struct {
	Name       string
	ElapsedS   float64
	Means      string  // what the recipe takes the mark for
	DueS       float64 // when that has happened in this jar
	SmallestUM float64 // the smallest grain that has come down in full by the mark
	OffPoints  float64 // mean error of the layer that ends at this mark, percent points by thickness; positive reads too much
	AbsPoints  float64 // the same without sign
}

// SoilAdvice is how much soil to put in.
type SoilAdvice struct {
	SolidsGL  float64 // advised, g per litre of column
	Share     float64 // the same as loose soil over the filled jar
	DepositMM float64 // expected height of the whole deposit
	Slowing   float64 // factor by which crowding slows the grains at the start, 0..1
	Spread    float64 // expected standard deviation of the fractions, points
	Given     float64 // the same with the amount given; 0 when none was
}

// Text says the advice in plain words.
func (a SoilAdvice) Text() string {
	return fmt.Sprintf("fill about 1/%.0f of the jar with loose dry soil: layers of about %.0f mm in all, grains slowed to %.0f %% of their speed in clear water",
		math.Round(1/a.Share), a.DepositMM, 100*a.Slowing)
}

func (s PlanSetup) validate() error {
	if s.WaterDepthMM != 0 {
		if err := checkRange(quantity("water depth"), s.WaterDepthMM, MinDepthMM, MaxDepthMM, " mm"); err != nil {
			return err
		}
	}
	if s.TempC != nil {
		if err := checkRange(quantity("water temperature"), *s.TempC, MinTempC, MaxTempC, " C"); err != nil {
			return err
		}
	}
	if err := checkRange(quantity("share of the jar that is soil"), s.SoilShare, 0, 0.6, ""); err != nil {
		return err
	}
	if err := checkRange(quantity("soil per litre"), s.SolidsGL, 0, 700, " g/L"); err != nil {
		return err
	}
	return checkRange(quantity("number of photos"), float64(s.Photos), 0, float64(MostMoments), "")
}

// Plan works out when to photograph the jar, by running plausible soils in it.
func Plan(s PlanSetup) (JarPlan, error) {
	if err := s.validate(); err != nil {
		return JarPlan{}, err
	}
	d := newDesign(s)
	var out JarPlan
	d.arrivals(&out)
	out.Recipes = d.recipes(&out)
	out.TimesS = Moments(s.photos())
	out.Spread = d.spread(out.TimesS)
	out.SpreadOf3 = d.spread(Moments(3))
	out.Soil = d.advise(s, out.TimesS)
	return out, nil
}

func (s PlanSetup) photos() int {
	if s.Photos == 0 {
		return 3
	}
	return s.Photos
}

// solids is the stated amount of soil, g/L; 0 when none was.
func (s PlanSetup) solids() float64 {
	if s.SolidsGL > 0 {
		return s.SolidsGL
	}
	return s.SoilShare * LooseSoilGL
}
