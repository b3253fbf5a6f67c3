// Package texture turns timed heights in a settling jar into mass fractions of
// sand, silt and clay, by settling physics and with honest uncertainty.
//
// The two calls most people need:
//
//	result, err := texture.Invert(observations, texture.Setup{WaterDepthMM: 125})
//	plan, err := texture.Plan(texture.PlanSetup{WaterDepthMM: 125, Photos: 4})
//
// Invert looks for the soils, packings, flocs, temperatures and times that
// explain all measured heights together, by a fast model of the jar (jar.go
// follows the front of every grain class through the crowded water) and
// deterministic importance sampling. ByThickness and ByPacking are the simpler
// readings a ruler allows.
//
// Conventions: grain diameters in micrometres, heights in millimetres above
// the inner floor, times in seconds after the jar was set down, temperatures in
// degrees Celsius, velocities in mm/s, fractions in percent of the mineral soil
// below 2 mm. The package holds numbers only: no pictures, files or processes.
package texture
