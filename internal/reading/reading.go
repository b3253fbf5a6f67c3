// Package reading is the contract of reading.json: what mudline says about one
// jar, for other programs and for its own reports. The JSON Schema beside it
// (schema.json) is the same contract for machines.
//
// Rows are y pixels on the jar's centre line in the upright full-size photo, at
// the front of the jar, 0 at the outer edge of the first row. Heights are
// millimetres above the inner floor at the front of the jar. What was not seen
// is absent.
package reading

import "mudline/internal/words"

// Version is the version of the contract.
const Version = 1

// Reading is what was read from the photos of one jar.
type Reading struct {
	Version int `json:"version"`
	// Jar is the jar's name.
	Jar string `json:"jar"`
	// WaterDepthMM is the height of the water surface above the inner floor;
	// absent when it is not known. WaterDepthFrom is "stated", or "sheet" where a
	// sheet behind the jar measured it, with the standard deviation WaterDepthSDMM.
	WaterDepthMM   *float64 `json:"water_depth_mm,omitempty"`
	WaterDepthFrom string   `json:"water_depth_from,omitempty"`
	WaterDepthSDMM *float64 `json:"water_depth_sd_mm,omitempty"`
	// TempC is the water's temperature the reading reckons with; TempFrom is
	// "stated" or "assumed".
	TempC    float64 `json:"temp_c"`
	TempFrom string  `json:"temp_from"`
	// Stated lists the keys of jar.yaml or options that a person stated and
	// that therefore won over what the program sees.
	Stated []string `json:"stated,omitempty"`
	// System is the class system, whose size limits the fractions keep to.
	System string `json:"system,omitempty"`
	// Engine is the image engine that was used: "go" or "opencv".
	Engine string `json:"engine,omitempty"`
	// Sheet is what the printed sheet behind the jar tells; absent without one.
	Sheet *Sheet `json:"sheet,omitempty"`
	// Photos are in order of time.
	Photos []Photo `json:"photos"`
	// Fractions are percent by mass of the mineral soil below 2 mm, corrected
	// for settling and packing; absent when they cannot be told.
	Fractions *Fractions `json:"fractions,omitempty"`
	// ByThickness is what a ruler on the last photo's layers would say: percent
	// of the deposit's height.
	ByThickness *Shares `json:"by_thickness,omitempty"`
	// ByVolume is percent of the deposit's volume: ByThickness, unless the jar
	// is not straight.
	ByVolume *Shares `json:"by_volume,omitempty"`
	// ByPacking is percent by mass when each layer counts with the usual
	// packing of its kind, before the settling is reckoned in.
	ByPacking *Shares `json:"by_packing,omitempty"`
	// Why says in one sentence why the corrected reading differs from the ruler's.
	Why     string         `json:"why,omitempty"`
	WhySaid *words.Message `json:"why_said,omitempty"`
	// Class is the texture class; absent when the fractions are.
	Class *Class `json:"class,omitempty"`
	// Causes of the uncertainty, the largest first.
	Causes []Cause `json:"causes,omitempty"`
	// NextPhoto is absent where no photo would narrow the reading by a tenth.
	NextPhoto *NextPhoto `json:"next_photo,omitempty"`
	// SizeCurve is the cumulative curve of grain sizes by how fast they sank,
	// from five photos up: a clump of clay counts as one larger grain.
	SizeCurve []SizePoint `json:"size_curve,omitempty"`
	// GrainCurve is the cumulative curve of grain sizes of the whole inversion, its clumps
	// parted, from eight photos with the top of the soil up. SizeCurve stands beside it as
	// a second opinion.
	GrainCurve *GrainCurve `json:"grain_curve,omitempty"`
	// Suspension is clay that had not settled at the last photo, in percent of
	// the mineral soil; it is part of Fractions.Clay and of no layer.
	Suspension *Estimate `json:"in_suspension,omitempty"`
	// SolidsGL is grams of dry soil in a litre of the jar's water and soil
	// together, as the settling of the layers makes it likely.
	SolidsGL *Range `json:"solids_g_l,omitempty"`
	// Soils are equally likely soils, [sand, silt, clay] percent by mass: the
	// cloud of what the photos leave possible.
	Soils [][3]float64 `json:"soils,omitempty"`
	// Expected is where the fitted physics expects the lines over time.
	Expected []Expected `json:"expected,omitempty"`
	// Colours are the colours of the layers as photographed.
	Colours *Colours `json:"colours,omitempty"`
	// Hand is what the person's hands said, beside the jar; absent where they
	// stated nothing.
	Hand *Hand `json:"hand,omitempty"`
	// Meaning is what the texture means for the garden; absent when the
	// fractions are.
	Meaning *Meaning `json:"meaning,omitempty"`
	// LeftOut are photos that were not used, by name; of a film dark ones, as nights
	// give, among them.
	LeftOut []LeftOut `json:"left_out,omitempty"`
	// Warnings are what makes the reading doubtful, the gravest first.
	Warnings []Warning `json:"warnings"`
}

// GrainCurve is a curve of grain sizes and the ends of what the photos tell of it: of
// grains coarser than CoarsestUM only how much they are, since all were down at the
// first sure height; of those finer than FinestUM nothing, since some still floated at
// the last.
type GrainCurve struct {
	Points     []SizePoint `json:"points"`
	FinestUM   float64     `json:"finest_um"`
	CoarsestUM float64     `json:"coarsest_um"`
}

// LeftOut is a photo that was not used. Code is that of a refusal.
type LeftOut struct {
	File string      `json:"file"`
	Code RefusalCode `json:"code"`
	Text string      `json:"text"`
	// Remedy says what to do about it, where something can be done.
	Remedy string `json:"remedy,omitempty"`
	// Said and Todo are Text and Remedy as messages.
	Said *words.Message `json:"said,omitempty"`
	Todo *words.Message `json:"todo,omitempty"`
}

// Photo is what was read in one photo.
type Photo struct {
	File     string  `json:"file"`
	ElapsedS float64 `json:"elapsed_s"`
	// ElapsedFrom is "stated", "name" or "exif".
	ElapsedFrom string `json:"elapsed_from"`
	// ElapsedSDS is the standard deviation of ElapsedS, in seconds.
	ElapsedSDS float64 `json:"elapsed_sd_s,omitempty"`
	// SizePx is width and height of the upright full-size photo.
	SizePx [2]int `json:"size_px"`
	// TurnedDeg is by how many degrees clockwise the photo was turned because the
	// file does not tell which way is up; SizePx and all pixels are of the turned one.
	TurnedDeg int `json:"turned_deg,omitempty"`
	// JarProbability is how likely a jar stands where the lines are, 0 to 1;
	// absent where a person said where it is.
	JarProbability *float64 `json:"jar_probability,omitempty"`
	// CentreLinePx runs up the front of the jar from the floor to the water.
	CentreLinePx *[2]PointPx `json:"centre_line_px,omitempty"`
	// EdgesPx are the outer glass edges, left and right, at half the water's height.
	EdgesPx *[2]PointPx `json:"edges_px,omitempty"`
	RowsPx  Rows        `json:"rows_px"`
	// HeightsMM need the water depth; absent without it.
	HeightsMM *Heights `json:"heights_mm,omitempty"`
	// HeightsPercent are the same heights in percent of the water depth.
	HeightsPercent *Heights `json:"heights_percent,omitempty"`
	// Stated names the lines that a person placed, or said are not there.
	Stated []string `json:"stated,omitempty"`
	// Placed is what they stated of each of these, as in jar.yaml: a row or a
	// column ("568 px"), a height ("24.2 mm"), or "none".
	Placed map[string]string `json:"placed,omitempty"`
	// Cloud is how opaque the water above the deposit is, 0 clear to 1 opaque.
	Cloud *float64 `json:"cloud,omitempty"`
	// FloatingMM is the thickness of foam or debris at the water surface.
	FloatingMM *float64 `json:"floating_mm,omitempty"`
	// Sheet is the printed sheet as this photo shows it; absent without one.
	Sheet   *SheetInPhoto `json:"sheet,omitempty"`
	Quality Quality       `json:"quality"`
}

// PointPx is x and y in pixels of the upright full-size photo.
type PointPx [2]float64

// Rows are lines in the photo, see the package comment; nil where not seen.
type Rows struct {
	Floor      *float64 `json:"floor,omitempty"`
	DepositTop *float64 `json:"deposit_top,omitempty"`
	SandTop    *float64 `json:"sand_top,omitempty"`
	SiltTop    *float64 `json:"silt_top,omitempty"`
	HazeTop    *float64 `json:"haze_top,omitempty"`
	// Water is the level surface, where heights end.
	Water *float64 `json:"water,omitempty"`
	// Meniscus is the upper edge of the water on the glass, a little above the
	// level surface: the line that is seen, and that a person places as water.
	Meniscus *float64 `json:"meniscus,omitempty"`
}

// Heights are the lines' heights above the inner floor; nil where not seen.
type Heights struct {
	DepositTop *Height `json:"deposit_top,omitempty"`
	SandTop    *Height `json:"sand_top,omitempty"`
	SiltTop    *Height `json:"silt_top,omitempty"`
	HazeTop    *Height `json:"haze_top,omitempty"`
}

// Height is a height with its standard deviation; Width is how far the change
// is spread (about 10 to 90 % of it). All in the unit of their list.
type Height struct {
	Value float64  `json:"value"`
	SD    float64  `json:"sd"`
	Width *float64 `json:"width,omitempty"`
}

// Quality says how far a photo can be trusted.
type Quality struct {
	// Sharpness is the program's own measure, higher is sharper.
	Sharpness float64 `json:"sharpness"`
	// Brightness is the median L* of the photo, 0..100.
	Brightness float64 `json:"brightness"`
	// BlownOut and Black are the shares of pixels without detail, 0..1.
	BlownOut float64 `json:"blown_out"`
	Black    float64 `json:"black"`
}

// Estimate is percent with its 90 % interval.
type Estimate struct {
	Percent float64 `json:"percent"`
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
}

// Range is a value with its 90 % interval, in the unit of its key.
type Range struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// Fractions are the three parts of the mineral soil.
type Fractions struct {
	Sand Estimate `json:"sand"`
	Silt Estimate `json:"silt"`
	Clay Estimate `json:"clay"`
}

// Shares are percentages without interval; nil where a boundary was not seen.
// SandAndSilt stands where those two were not told apart, SiltAndClay likewise.
type Shares struct {
	Sand        *float64 `json:"sand,omitempty"`
	Silt        *float64 `json:"silt,omitempty"`
	Clay        *float64 `json:"clay,omitempty"`
	SandAndSilt *float64 `json:"sand_and_silt,omitempty"`
	SiltAndClay *float64 `json:"silt_and_clay,omitempty"`
}

// Class is the texture class with the probability that it is the right one.
type Class struct {
	// System is one of the class systems of package texture, as "usda".
	System      string       `json:"system"`
	Name        string       `json:"name"`
	Probability float64      `json:"probability"`
	Others      []OtherClass `json:"others,omitempty"`
}

// Enough is the probability from which a class is called likely.
const Enough = 2. / 3

const mostNamed = 3

// Named are the classes to put over a reading: the fewest, likeliest first, that
// together have Enough probability, but no more than three; and what they have.
func (c Class) Named() (names []string, together float64) {
	names, together = []string{c.Name}, c.Probability
	for _, o := range c.Others {
		if together >= Enough || len(names) == mostNamed {
			break
		}
		names, together = append(names, o.Name), together+o.Probability
	}
	return names, together
}

// OtherClass is a class that cannot be ruled out.
type OtherClass struct {
	Name        string  `json:"name"`
	Probability float64 `json:"probability"`
}

// Cause is one source of the uncertainty and its share of the variance, 0..1.
type Cause struct {
	Code  string         `json:"code"`
	Text  string         `json:"text"`
	Said  *words.Message `json:"said,omitempty"`
	Share float64        `json:"share"`
}

// NextPhoto is the photo that would narrow a reading most.
type NextPhoto struct {
	ElapsedS float64 `json:"elapsed_s"`
	// Again says that the jar must be shaken anew for it.
	Again bool `json:"again,omitempty"`
	// WidthPoints is the width of the widest 90 % interval, ExpectedPoints that to
	// expect with the photo, in points of percent.
	WidthPoints    float64        `json:"width_points"`
	ExpectedPoints float64        `json:"expected_points"`
	Text           string         `json:"text"`
	Said           *words.Message `json:"said,omitempty"`
}

// SizePoint is the percent by mass finer than a grain size.
type SizePoint struct {
	SizeUM float64 `json:"size_um"`
	Finer  float64 `json:"finer_percent"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
}

// Expected is where the fitted physics expects the lines at one time, in percent
// of the water depth, with 90 % intervals.
type Expected struct {
	ElapsedS   float64 `json:"elapsed_s"`
	DepositTop Range   `json:"deposit_top"`
	SandTop    Range   `json:"sand_top"`
	SiltTop    Range   `json:"silt_top"`
}

// Colours are "#rrggbb" in sRGB, the median of what the last photo shows of each
// layer; empty where the layer was not told apart. Water is the water above. From is
// "sheet" where the photo's light was put right by the sheet behind the jar.
type Colours struct {
	From  string `json:"from,omitempty"`
	Sand  string `json:"sand,omitempty"`
	Silt  string `json:"silt,omitempty"`
	Clay  string `json:"clay,omitempty"`
	Water string `json:"water,omitempty"`
	// Wet names the colours of the layers; absent without a sheet.
	Wet *WetColours `json:"wet,omitempty"`
}

// WetColours are the colours of the wet layers as the sheet's light has them, and in
// words. They are only about right: seen through glass, under light as it falls on the
// paper.
type WetColours struct {
	Sand WetColour      `json:"sand"`
	Silt WetColour      `json:"silt"`
	Clay WetColour      `json:"clay"`
	Text string         `json:"text"`
	Said *words.Message `json:"said,omitempty"`
}

// WetColour is a colour in CIELAB (D65) and its name.
type WetColour struct {
	Lab  [3]float64 `json:"lab"`
	Name string     `json:"name"`
}

// Warning says what makes the reading doubtful, and what would settle it.
type Warning struct {
	Code   WarningCode `json:"code"`
	Text   string      `json:"text"`
	Remedy string      `json:"remedy,omitempty"`
	// Photo is the one it is about; empty for the jar as a whole.
	Photo string `json:"photo,omitempty"`
	// Said and Todo are Text and Remedy as messages.
	Said *words.Message `json:"said,omitempty"`
	Todo *words.Message `json:"todo,omitempty"`
}

// Ptr gives a pointer to v, or nil where v is not a finite number: a value that
// was not seen is absent.
func Ptr(v float64) *float64 {
	if !finite(v) {
		return nil
	}
	return &v
}
