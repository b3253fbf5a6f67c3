package reading

// RefusalCode says for programs why there is no reading. What each means to a person is
// told by mudline help refusals, whose text the tests hold against this list, as the
// lists of codes in schema.json.
type RefusalCode string

// The codes of refusals. Package imaging has its own constants for those about a single
// picture, package layers for those about what the jar holds; the tests know both.
const (
	NoPhotos       RefusalCode = "no_photos"
	EmptyFile      RefusalCode = "empty_file"
	NotAnImage     RefusalCode = "not_an_image"
	Unsupported    RefusalCode = "unsupported_format"
	Truncated      RefusalCode = "truncated"
	Damaged        RefusalCode = "damaged"
	TooSmall       RefusalCode = "too_small"
	TooLarge       RefusalCode = "too_large"
	TooDark        RefusalCode = "too_dark"
	OutOfFocus     RefusalCode = "out_of_focus"
	NoJar          RefusalCode = "no_jar"
	NotUpright     RefusalCode = "not_upright"
	NoDeposit      RefusalCode = "no_deposit"
	StillMixed     RefusalCode = "still_mixed"
	DifferentJars  RefusalCode = "different_jars"
	NoTime         RefusalCode = "no_time"
	TimesBackwards RefusalCode = "times_backwards"
	SameTime       RefusalCode = "same_time"

	// Of single photos of a film.
	OtherView RefusalCode = "other_view"
	OutOfLine RefusalCode = "out_of_line"

	NoFilm RefusalCode = "no_film"

	// Of one jar among several, which do not stop the others.
	BadRecord      RefusalCode = "bad_record"
	StatedValue    RefusalCode = "stated_value"
	UnreadableFile RefusalCode = "unreadable_file"
	SamePhoto      RefusalCode = "same_photo"
	NotWritten     RefusalCode = "not_written"
	ProgramFault   RefusalCode = "program_fault"

	// Of several jars as a whole.
	NotRead     RefusalCode = "not_read"
	SomeRefused RefusalCode = "some_refused"
	NotSorted   RefusalCode = "not_sorted"
)

// WarningCode says for programs what makes a reading doubtful; mudline help warnings
// tells each to people.
type WarningCode string

// The codes of warnings. Those of package imaging's doubts and of package layers' notes
// stand there as constants too; the tests know both.
const (
	NothingSeen WarningCode = "nothing_seen"

	// Of the layers.
	OneLayer       WarningCode = "one_layer"
	NothingSettled WarningCode = "nothing_settled"
	FaintTop       WarningCode = "faint_top"
	SandSilt       WarningCode = "sand_silt_not_told_apart"
	SiltClay       WarningCode = "silt_clay_not_told_apart"
	SandTopUnsure  WarningCode = "sand_top_unsure"
	SiltTopUnsure  WarningCode = "silt_top_unsure"
	Cloudy         WarningCode = "clay_still_in_suspension"
	Floating       WarningCode = "floating_matter_left_out"
	LineGaveWay    WarningCode = "line_gave_way"
	OddLine        WarningCode = "odd_line"
	// LinesContradict says that no soil settles as the lines say.
	LinesContradict WarningCode = "lines_contradict"

	// Of what was not stated.
	NoWaterDepth  WarningCode = "no_water_depth"
	NoTemperature WarningCode = "no_temperature"
	NoDispersant  WarningCode = "no_dispersant"
	SoilUnused    WarningCode = "soil_unused"

	// Of the times.
	SinglePhoto      WarningCode = "single_photo"
	NoEarlyPhoto     WarningCode = "no_early_photo"
	Short            WarningCode = "short"
	ClockZoneAssumed WarningCode = "clock_zone_assumed"
	TimeConflict     WarningCode = "time_conflict"

	// Of the jar in the photos.
	JarUnsure        WarningCode = "jar_unsure"
	JarOutlineUnsure WarningCode = "jar_outline_unsure"
	JarNotStraight   WarningCode = "jar_not_straight"
	MaybeTwoJars     WarningCode = "maybe_two_jars"
	WaterLineUnsure  WarningCode = "water_line_unsure"
	WaterLineUnseen  WarningCode = "water_line_unseen"

	// Of single pictures.
	Dim           WarningCode = "dim"
	Soft          WarningCode = "soft"
	BlownOut      WarningCode = "blown_out"
	PhotoTurned   WarningCode = "photo_turned"
	PhotosLeftOut WarningCode = "photos_left_out"

	// Of the sheet behind the jar. None takes anything from a reading that goes without.
	SheetAside      WarningCode = "sheet_aside"
	SheetNotUpright WarningCode = "sheet_not_upright"
	SheetUnread     WarningCode = "sheet_unread"
	SheetsDiffer    WarningCode = "sheets_differ"
	PhotoMirrored   WarningCode = "photo_mirrored"
	DepthDisagrees  WarningCode = "depth_disagrees"
	JarWidthsDiffer WarningCode = "jar_widths_differ"
)
