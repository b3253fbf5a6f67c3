package reading

// Sheet is what the printed sheet behind a jar tells.
type Sheet struct {
	// Identity is the sheet's own, four letters or digits; Name is the jar's name in
	// its code, absent where that was not read.
	Identity string `json:"identity"`
	Name     string `json:"name,omitempty"`
	// Paper is "a4" or "letter".
	Paper string `json:"paper"`
	// JarDiameterMM is the outer diameter of the glass, WaterDepthMM the height of
	// the water surface above the inner floor, both as measured by the sheet; absent
	// where the jar does not stand before it as it should.
	JarDiameterMM *Length `json:"jar_diameter_mm,omitempty"`
	WaterDepthMM  *Length `json:"water_depth_mm,omitempty"`
}

// Length is a length with its standard deviation.
type Length struct {
	Value float64 `json:"value"`
	SD    float64 `json:"sd"`
}

// SheetInPhoto is the printed sheet as one photo shows it.
type SheetInPhoto struct {
	Identity string `json:"identity"`
	// Marks is how many of its twelve marks were read.
	Marks int `json:"marks"`
	// CornersPx are the paper's corners, as they are on the sheet: top left, top
	// right, bottom right, bottom left.
	CornersPx [4]PointPx `json:"corners_px"`
	// ResidualPx is how far the marks lie from where they are reckoned, on the mean.
	ResidualPx float64 `json:"residual_px"`
	// DistanceMM is from the camera to the foot of the sheet; TiltDeg how far the
	// camera looks up (down is negative), against the jar where it was measured, else
	// against the sheet; RollDeg how far it is turned clockwise; FocalPx its focal
	// length.
	DistanceMM float64 `json:"distance_mm"`
	TiltDeg    float64 `json:"tilt_deg"`
	RollDeg    float64 `json:"roll_deg"`
	FocalPx    float64 `json:"focal_px"`
	// LeanDeg is how far the sheet leans back from the jar; absent where that was not
	// measured.
	LeanDeg *float64 `json:"lean_deg,omitempty"`
	// LightGain is what linear red, green and blue must be multiplied by for the paper
	// to be white; absent where too little of it is seen.
	LightGain *[3]float64 `json:"light_gain,omitempty"`
	// LightTone is the power of the paper's light by which this photo drew the printed
	// greys darker than the photos of this sheet do on the mean; absent without LightGain.
	LightTone float64 `json:"light_tone,omitempty"`
	// SoilLab is the colour of the lowest wet soil in CIELAB, put right by both.
	SoilLab *[3]float64 `json:"soil_lab,omitempty"`
	// Mirrored says that left and right are exchanged in the photo.
	Mirrored bool `json:"mirrored,omitempty"`
}
