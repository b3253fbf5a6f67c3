package texture_test

import (
	"fmt"

	"mudline/texture"
)

// How fast a grain of clay's upper limit, 2 um, falls in water of 20 C. BS 1377-2:1990 gives
// the size as 0.005531 sqrt(mu H / ((rs - 1) t)) mm, with mu in mPa s, H in mm and t in min:
// 100 mm take 2 um 463.7 minutes.
func ExampleFluid_StokesMMS() {
	water := texture.NewFluid(20, texture.QuartzDensity)
	speed := water.StokesMMS(2)
	fmt.Printf("%.3g mm/s, 100 mm in %.0f minutes\n", speed, 100/speed/60)
	// Output: 0.00359 mm/s, 100 mm in 464 minutes
}

// The class of a soil, and how far it is from another one. Clay loam begins at 27 % clay
// (Soil Survey Manual 2017, ch. 3): 7 points of clay, which in a triangle of side 100 are
// 7 sin 60 = 6.06.
func ExampleClassOf() {
	soil := texture.Fractions{Sand: 40, Silt: 40, Clay: 20}
	class, err := texture.ClassOf(soil, texture.USDA)
	fmt.Println(class, err)
	near, err := texture.Borders(soil, texture.USDA)
	fmt.Printf("%s, %.1f points away, %v\n", near[0].Class, near[0].Distance, err)
	// Output:
	// loam <nil>
	// clay loam, 6.1 points away, <nil>
}

// Three readings of a jar become percentages with their range and the class.
func ExampleInvert() {
	height := func(mm float64) *texture.Height { return &texture.Height{Share: mm / 130, SD: 0.8 / 130} }
	temp := 20.0
	r, err := texture.Invert([]texture.Observation{
		{ElapsedS: 60, DepositTop: height(13), SandTop: height(12.6)},
		{ElapsedS: 7200, DepositTop: height(23), SandTop: height(12.6)},
		{ElapsedS: 172800, DepositTop: height(25), SandTop: height(12.6), SiltTop: height(20)},
	}, texture.Setup{WaterDepthMM: 130, TempC: &temp, TempSDC: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Sand.Low < r.Sand.Value && r.Sand.Value < r.Sand.High, r.Classes[0].Name)
	// Output: true sandy loam
}

// When to photograph a jar of 130 mm of water.
func ExamplePlan() {
	temp := 18.0
	plan, err := texture.Plan(texture.PlanSetup{WaterDepthMM: 130, TempC: &temp, Photos: 3})
	fmt.Println(plan.TimesS, err)
	// Output: [60 7200 172800] <nil>
}
