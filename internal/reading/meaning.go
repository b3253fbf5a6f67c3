package reading

import (
	"slices"

	"mudline/internal/words"
)

// Meaning is what the texture means for watering, drainage and working the
// ground. Water contents are percent by volume of the soil below 2 mm.
type Meaning struct {
	// OrganicMatter is percent by weight; OrganicMatterFrom is "stated" or
	// "assumed".
	OrganicMatter     float64 `json:"organic_matter_percent"`
	OrganicMatterFrom string  `json:"organic_matter_from"`
	FieldCapacity     Range   `json:"field_capacity_percent"`
	WiltingPoint      Range   `json:"wilting_point_percent"`
	// AvailableMMPerM is millimetres of water that plants can take from a metre
	// of soil depth.
	AvailableMMPerM Range `json:"available_water_mm_per_m"`
	// ConductivityMMH is the saturated conductivity, mm/h.
	ConductivityMMH Range `json:"saturated_conductivity_mm_h"`
	Bed             Bed   `json:"bed"`
	// Lines are what to do or know this week, at most five.
	Lines []Statement `json:"lines"`
	// More is the rest of what the texture means.
	More []Statement `json:"more,omitempty"`
	// Laboratory says when a laboratory is worth its price.
	Laboratory Statement `json:"laboratory"`
}

// Bed is how a bed of this soil holds water.
type Bed struct {
	// Crop is the crop reckoned with, RootingDepthMM how deep it roots,
	// DailyUseMM what it takes a day; their From fields are "stated",
	// "crop" (a table's value for the crop) or "assumed".
	Crop             string  `json:"crop,omitempty"`
	RootingDepthMM   float64 `json:"rooting_depth_mm"`
	RootingDepthFrom string  `json:"rooting_depth_from"`
	DailyUseMM       float64 `json:"daily_use_mm"`
	DailyUseFrom     string  `json:"daily_use_from"`
	// TotalMM is all the water plants can take from the rooting depth, ReadilyMM
	// the part they take before they suffer (FAO-56), Depletion that part, 0..1.
	TotalMM   Range   `json:"total_available_mm"`
	ReadilyMM Range   `json:"readily_available_mm"`
	Depletion float64 `json:"depletion_fraction"`
	// Days between waterings without rain.
	Days Range `json:"days_between_waterings"`
}

// Statement is one fact or action with where it comes from.
type Statement struct {
	// Topic is a code: "watering", "drainage", "working", "compaction",
	// "crusting", "amendments", "waterlogging", ...
	Topic  string `json:"topic"`
	Text   string `json:"text"`
	Source string `json:"source"`
	// Said and SourceSaid are Text and Source as messages.
	Said       *words.Message `json:"said,omitempty"`
	SourceSaid *words.Message `json:"source_said,omitempty"`
}

// ContaminationTopic is the topic of the line that says to put the soil down.
const ContaminationTopic = "contamination"

// DoubtTopic is the topic of the line that says a reading is too uncertain to act on.
const DoubtTopic = "doubt"

// Doubtful says whether the advice begins by saying that the reading is too uncertain to
// go by its class.
func (m *Meaning) Doubtful() bool {
	return m != nil && slices.ContainsFunc(m.Lines, func(s Statement) bool { return s.Topic == DoubtTopic })
}
