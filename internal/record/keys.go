package record

import (
	"mudline/internal/words"
	"mudline/texture/feel"
)

// Entry is a key that a jar.yaml may have at its outermost level. Entries is the one table
// of them: what reads a record, takes options, or hands down what holds
// for all jars goes by it.
type Entry struct {
	Name string
	// Option says that an option --Name takes the value as it stands in a record.
	Option bool
	// Shared says that a jar takes the value from the record of all jars where its own
	// record states none.
	Shared bool

	value
	read   func(*Record, node) error // where it is no plain value
	stated func(*Record) []string    // the keys stated where there may be several
}

// Set states the key as it is written in a jar.yaml or an option. The error says what is
// wrong with it.
func (k Entry) Set(r *Record, text string) error {
	if k.set == nil {
		return words.Say("record.expected-keys", words.Told("what", words.WordOf("record-key", k.Name)))
	}
	return k.set(r, text)
}

// Entries are the keys of a jar.yaml in the order in which a reading lists what was stated.
var Entries = []Entry{
	{Name: "name", value: plain(func(r *Record) *string { return &r.Name }, asWritten), Option: true},
	{Name: "water-depth", value: waterDepth, Shared: true, Option: true},
	{Name: "sheet-line", value: plain(func(r *Record) *float64 { return &r.SheetLineMM }, ParseSheetLine), Shared: true, Option: true},
	{Name: "temp", value: temperature, Shared: true, Option: true},
	{Name: "shaken", value: plain(func(r *Record) *Moment { return &r.Shaken }, ParseMoment), Shared: true, Option: true},
	{Name: "system", value: plain(func(r *Record) *string { return &r.System }, ParseSystem), Shared: true, Option: true},
	{Name: "box", value: optional(func(r *Record) **Box { return &r.Box }, aBox), Shared: true,
		read: func(r *Record, n node) error { return box(&r.Box)(n) }},
	{Name: "hand", read: readHand, stated: statedHand},
	{Name: "organic-matter", value: optional(func(r *Record) **float64 { return &r.OrganicMatter }, ParseOrganicMatter), Shared: true, Option: true},
	{Name: Dispersant, value: optional(func(r *Record) **bool { return &r.Dispersant }, ParseYesNo), Shared: true, Option: true},
	{Name: ShakenFor, value: plain(func(r *Record) *float64 { return &r.ShakenMin }, ParseShaking), Shared: true, Option: true},
	{Name: DrySoil, value: plain(func(r *Record) *float64 { return &r.DrySoilG }, ParseSoil), Option: true},
	{Name: Stones, value: optional(func(r *Record) **float64 { return &r.StonesPercent }, ParseStones), Shared: true, Option: true},
	{Name: "crop", value: plain(func(r *Record) *string { return &r.Crop }, ParseCrop), Shared: true, Option: true},
	{Name: "rooting-depth", value: plain(func(r *Record) *float64 { return &r.RootingDepthMM }, ParseRootingDepth), Shared: true, Option: true},
	{Name: "daily-use", value: plain(func(r *Record) *float64 { return &r.DailyUseMM }, ParseDailyUse), Shared: true, Option: true},
	{Name: "photos", read: readPhotos, stated: statedPhotos},
}

// The keys of how the jar was prepared.
const (
	Dispersant = "dispersant"
	ShakenFor  = "shaken-for"
	DrySoil    = "dry-soil"
	Stones     = "stones"
)

// value is a value that is written as one text.
type value struct {
	set  func(*Record, string) error
	has  func(*Record) bool
	take func(r, from *Record)
}

// plain is a value that is the zero of its type where it is not stated.
func plain[T comparable](at func(*Record) *T, parse func(string) (T, error)) value {
	var none T
	return value{
		set:  func(r *Record, text string) (err error) { *at(r), err = parse(text); return err },
		has:  func(r *Record) bool { return *at(r) != none },
		take: func(r, from *Record) { *at(r) = *at(from) },
	}
}

// optional is a value that is nil where it is not stated.
func optional[T any](at func(*Record) **T, parse func(string) (T, error)) value {
	return value{
		set: func(r *Record, text string) error {
			v, err := parse(text)
			*at(r) = &v
			return err
		},
		has:  func(r *Record) bool { return *at(r) != nil },
		take: func(r, from *Record) { *at(r) = *at(from) },
	}
}

// The depth and the temperature keep the unit that they were written in.
var (
	waterDepth = value{
		set: func(r *Record, text string) (err error) {
			r.WaterDepthMM, r.Inches, err = ParseWaterDepth(text)
			return err
		},
		has:  func(r *Record) bool { return r.WaterDepthMM != 0 },
		take: func(r, from *Record) { r.WaterDepthMM, r.Inches = from.WaterDepthMM, from.Inches },
	}
	temperature = value{
		set: func(r *Record, text string) error {
			c, f, err := ParseTemp(text)
			r.TempC, r.Fahrenheit = &c, f
			return err
		},
		has:  func(r *Record) bool { return r.TempC != nil },
		take: func(r, from *Record) { r.TempC, r.Fahrenheit = from.TempC, from.Fahrenheit },
	}
)

func aBox(text string) (Box, error) {
	b, err := ParseBox(text)
	if err != nil {
		return Box{}, err
	}
	return *b, nil
}

func asWritten(text string) (string, error) { return text, nil }

// Stated lists the keys a person stated, in a fixed order, with the keys of
// single photos written "photos.FILE.KEY" and those of the hands "hand.KEY".
func (r *Record) Stated() []string {
	var keys []string
	for _, k := range Entries {
		switch {
		case k.stated != nil:
			keys = append(keys, k.stated(r)...)
		case k.has(r):
			keys = append(keys, k.Name)
		}
	}
	return keys
}

// TakeShared states what another record says of all jars and this one does not say.
func (r *Record) TakeShared(common *Record) {
	for _, k := range Entries {
		if k.Shared && !k.has(r) {
			k.take(r, common)
		}
	}
}

// OfOneJar are the keys stated here that are no other jar's, so that in the record of all
// jars they say nothing. The name and the photos have a use of their own there.
func (r *Record) OfOneJar() (keys []string) {
	for _, k := range Entries {
		if k.Shared || k.Name == "photos" || k.Name == "name" {
			continue
		}
		if k.stated != nil && k.stated(r) != nil || k.has != nil && k.has(r) {
			keys = append(keys, k.Name)
		}
	}
	return keys
}

func statedHand(r *Record) (keys []string) {
	if r.Hand == nil {
		return nil
	}
	for _, key := range feel.Keys() {
		if feel.Get(*r.Hand, key) != "" {
			keys = append(keys, "hand."+key)
		}
	}
	return keys
}

// topKeys are the keys of a record that is being read.
func topKeys(r *Record) []key {
	out := make([]key, len(Entries))
	for i, k := range Entries {
		out[i] = key{k.Name, text(func(s string) error { return k.Set(r, s) })}
		if k.read != nil {
			out[i].read = func(n node) error { return k.read(r, n) }
		}
	}
	return out
}

// keyNames are the names of the keys in their order.
func keyNames() []string {
	var names []string
	for _, k := range Entries {
		names = append(names, k.Name)
	}
	return names
}
